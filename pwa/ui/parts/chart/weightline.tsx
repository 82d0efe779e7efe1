// The weight on the scale over the time on the clock.

import type { ComponentChildren } from "preact";
import { clock } from "../../model/guidewords.ts";
import { formatNumber } from "../../model/numbers.ts";
import { weight } from "../../model/units.ts";
import { axis } from "./axis.ts";
import "./weightline.css";

export type Point = [seconds: number, grams: number];

const WIDTH = 350;
const HEIGHT = 170;
const EDGE = { left: 40, right: 20, top: 10, bottom: 24 };

interface Props {
  label: string;
  lines: readonly { points: readonly Point[]; look: "planned" | "actual" | "actual thin" }[];
  /** Moments that stand for themselves: a stir, a swirl. */
  moments?: readonly number[];
  children?: ComponentChildren;
}

export function WeightLine({ label, lines, moments, children }: Props) {
  const all = lines.flatMap(({ points }) => points);
  const until = Math.max(30, ...all.map(([seconds]) => seconds));
  const x = axis([0, until], [EDGE.left, WIDTH - EDGE.right]);
  const y = axis([0, weight.value.show(Math.max(10, ...all.map(([, grams]) => grams)))], [HEIGHT - EDGE.bottom, EDGE.top]);
  const draw = (points: readonly Point[]) => `M${points.map(([seconds, grams]) => `${x(seconds)},${y(weight.value.show(grams))}`).join("L")}`;
  return (
    <figure class="weightline">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={label}>
        {momentsOf(until).map((tick) => (
          <text key={tick} x={x(tick)} y={HEIGHT - 6} text-anchor="middle">
            {clock(tick)}
          </text>
        ))}
        {y.ticks(4).map((tick) => (
          <g key={tick}>
            <line class="grid" x1={EDGE.left} x2={WIDTH - EDGE.right} y1={y(tick)} y2={y(tick)} />
            <text x={EDGE.left - 6} y={y(tick) + 4} text-anchor="end">
              {formatNumber(tick, 1)}
            </text>
          </g>
        ))}
        {lines.map(({ points, look }, i) => points.length > 1 && <path key={i} class={look} d={draw(points)} />)}
        {moments?.map((at, i) => (
          <line key={i} class="moment" x1={x(at)} x2={x(at)} y1={HEIGHT - EDGE.bottom - 10} y2={HEIGHT - EDGE.bottom} />
        ))}
      </svg>
      {children && <figcaption class="small soft">{children}</figcaption>}
    </figure>
  );
}

/** Moments that a clock shows, about five of them. */
function momentsOf(until: number): number[] {
  const step = [15, 30, 60, 120, 300, 900, 3600, 14_400].find((each) => until / each <= 6) ?? 86_400;
  return Array.from({ length: Math.floor(until / step) + 1 }, (_, i) => i * step);
}
