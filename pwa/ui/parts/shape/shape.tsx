// A brewer as a small drawing of its geometry, and a choice among them. Drawn for Hushcup on one 48 px grid; the words say the
// same.

import { useId } from "preact/hooks";
import type { ComponentChildren } from "preact";
import type { Geometry } from "../../gen/types.ts";
import * as words from "../../words.ts";
import "../field/field.css";
import "./shape.css";

const drawings: { [geometry in Geometry]: ComponentChildren } = {
  cone: (
    <>
      <path d="M7 9h34L27 33h-6z" />
      <path d="M15 14c6 3 9 8 8 15M33 14c-6 3-9 8-8 15" />
      <path class="water" d="M24 37v5" />
    </>
  ),
  "flat-bed": (
    <>
      <path d="M8 9h32l-6 22H14z" />
      <path d="M12 23h24" />
      <path class="water" d="M18 35v5M24 35v5M30 35v5" />
    </>
  ),
  "steep-and-drain": (
    <>
      <path d="M11 6h26M9 10h30l-8 20H17z" />
      <path d="M21 30h6v6h-6zM16 33h5M27 33h5" />
      <path class="water" d="M13 19h22M24 40v3" />
    </>
  ),
  "press-inverted": (
    <>
      <path d="M14 7h20M17 7v25h14V7" />
      <path d="M17 26h14M24 26v15M17 41h14" />
      <path class="water" d="M17 14h14" />
    </>
  ),
  "press-upright": (
    <>
      <path d="M17 13v24h14V13M13 37h22" />
      <path d="M17 6h14M24 6v14M17 20h14" />
      <path class="water" d="M17 26h14M24 41v3" />
    </>
  ),
  "cupping-bowl": (
    <>
      <path d="M7 15h34c0 13-7 22-17 22S7 28 7 15z" />
      <path class="water" d="M12 21c3-2 5 2 8 0s5 2 8 0 5 2 8 0" />
    </>
  ),
  other: (
    <>
      <path stroke-dasharray="4 4" d="M13 8h22v30H13z" />
      <path class="water" d="M13 24h22" />
    </>
  ),
};

export const Shape = ({ geometry }: { geometry: Geometry }) => (
  <svg class="shape" viewBox="0 0 48 48" aria-hidden="true" focusable="false">
    {drawings[geometry]}
  </svg>
);

const shapes = Object.keys(drawings) as Geometry[];

interface Props {
  label: string;
  value: Geometry | "";
  onValue(geometry: Geometry): void;
  error?: string | undefined;
}

export function ShapePick({ label, value, onValue, error }: Props) {
  const name = useId();
  return (
    <fieldset class={`field${error ? " wrong" : ""}`} aria-describedby={error ? `${name}-note` : undefined}>
      <legend>{label}</legend>
      <div class="shape-grid">
        {shapes.map((geometry) => (
          <label key={geometry} class="pick-one">
            <input type="radio" name={name} checked={geometry === value} onChange={() => onValue(geometry)} />
            <span>
              <Shape geometry={geometry} />
              {words.geometry[geometry]}
            </span>
          </label>
        ))}
      </div>
      <p class="field-note" id={`${name}-note`} role="status">
        {error ?? ""}
      </p>
    </fieldset>
  );
}
