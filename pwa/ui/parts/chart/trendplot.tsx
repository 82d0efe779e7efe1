// One quantity over one's brews, in the order in which they were brewed. A pencil line marks what is wished for.

import type { TrendPoint } from "../../gen/types.ts";
import * as words from "../../words.ts";
import { axis } from "./axis.ts";
import { Mark } from "./mark.tsx";
import "./chart.css";

const WIDTH = 350;
const HEIGHT = 130;
const LEFT = 44;

interface Props {
  title: string;
  points: readonly TrendPoint[];
  /** undefined where it was not noted. */
  value(point: TrendPoint): number | undefined;
  /** What is left open about it. */
  ends?(point: TrendPoint): [number, number] | undefined;
  show(value: number): string;
  /** The least that the axis spans. */
  span: [number, number];
  aim?: number;
}

export function TrendPlot({ title, points, value, ends, show, span, aim }: Props) {
  const known = points.flatMap((point) => {
    const at = value(point);
    return at === undefined ? [] : [{ point, at, open: ends?.(point) }];
  });
  if (known.length === 0) return null;
  const all = known.flatMap(({ at, open }) => [at, ...(open ?? [])]);
  const x = axis([0, Math.max(1, known.length - 1)], [LEFT + 8, WIDTH - 8]);
  const y = axis([Math.min(span[0], ...all), Math.max(span[1], ...all)], [HEIGHT - 10, 10]);
  const place = (i: number) => (known.length === 1 ? x(0.5) : x(i));
  return (
    <figure class="chart">
      <h3>{title}</h3>
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={words.log.overLabel(title)}>
        <path class="frame-line" d={`M${LEFT} 6V${HEIGHT - 6}`} />
        {y.ticks(4).map((tick) => (
          <text key={tick} x={LEFT - 6} y={y(tick) + 4} text-anchor="end">
            {show(tick)}
          </text>
        ))}
        {aim !== undefined && <line class="agreement" x1={LEFT} x2={WIDTH} y1={y(aim)} y2={y(aim)} />}
        {known.map(({ point, at, open }, i) => (
          <g key={point.brew}>
            {open && <line class="open-ends" x1={place(i)} x2={place(i)} y1={y(open[0])} y2={y(open[1])} />}
            <Mark point={point} x={place(i)} y={y(at)} />
          </g>
        ))}
      </svg>
    </figure>
  );
}
