// A brew on a chart: a dot for a brewed cup, a square for a cupping bowl; hollow when nothing is learned from it.

import type { TrendPoint } from "../../gen/types.ts";

const SIZE = 3.5;

export function Mark({ point, x, y }: { point: TrendPoint; x: number; y: number }) {
  const look = point.counts ? "mark" : "mark out";
  if (point.bowl) return <rect class={look} x={x - SIZE} y={y - SIZE} width={2 * SIZE} height={2 * SIZE} />;
  return <circle class={look} cx={x} cy={y} r={SIZE} />;
}
