// A line to mark how strong something is. Empty until it is touched, since a mark in the middle would pull every answer
// towards it. A tap is enough; a drag and the arrow keys move the mark; the mark can be taken away again.

import { useId, useRef } from "preact/hooks";
import * as words from "../../words.ts";
import "./linescale.css";

interface Props {
  label: string;
  /** Words for the two ends. */
  ends?: [string, string];
  /** A word for the middle, where the middle means something of its own. */
  middle?: string;
  /** 0 to 100, undefined while it is empty. */
  value: number | undefined;
  onValue(value: number | undefined): void;
}

const STEP = 2;

export function LineScale({ label, ends, middle, value, onValue }: Props) {
  const id = useId();
  const line = useRef<HTMLDivElement>(null);

  const mark = (clientX: number) => {
    const box = line.current?.getBoundingClientRect();
    if (!box) return;
    const rtl = getComputedStyle(line.current as Element).direction === "rtl";
    const part = (clientX - box.left) / box.width;
    onValue(Math.round(100 * Math.min(1, Math.max(0, rtl ? 1 - part : part))));
  };

  const key = (event: KeyboardEvent) => {
    const next = afterKey(event.key, value);
    if (next === value) return;
    event.preventDefault();
    onValue(next);
  };

  return (
    <div class="linescale">
      <span class="linescale-label" id={id}>
        {label}
      </span>
      <div
        class="linescale-touch"
        role="slider"
        tabIndex={0}
        aria-labelledby={id}
        aria-valuemin={0}
        aria-valuemax={100}
        aria-valuenow={value ?? 0}
        aria-valuetext={value === undefined ? words.scale.empty : words.scale.at(value)}
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          mark(event.clientX);
        }}
        onPointerMove={(event) => {
          if (event.currentTarget.hasPointerCapture(event.pointerId)) mark(event.clientX);
        }}
        onKeyDown={key}
      >
        <div class={middle ? "linescale-line halved" : "linescale-line"} ref={line}>
          {value === undefined ? (
            <span class="linescale-empty" aria-hidden="true">
              {words.scale.tap}
            </span>
          ) : (
            <span class="linescale-mark" style={{ insetInlineStart: `${value}%` }} />
          )}
        </div>
        {ends && (
          <div class="linescale-ends" aria-hidden="true">
            <span>{ends[0]}</span>
            {middle && <span>{middle}</span>}
            <span>{ends[1]}</span>
          </div>
        )}
      </div>
    </div>
  );
}

/** The first key puts the mark in reach; Delete takes it away. */
export function afterKey(key: string, value: number | undefined): number | undefined {
  const from = value ?? 50;
  switch (key) {
    case "ArrowRight":
    case "ArrowUp":
      return Math.min(100, from + STEP);
    case "ArrowLeft":
    case "ArrowDown":
      return Math.max(0, from - STEP);
    case "PageUp":
      return Math.min(100, from + 10);
    case "PageDown":
      return Math.max(0, from - 10);
    case "Home":
      return 0;
    case "End":
      return 100;
    case "Delete":
    case "Backspace":
      return undefined;
  }
  return value;
}
