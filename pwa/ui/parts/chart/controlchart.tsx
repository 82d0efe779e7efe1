// The trade's brewing control chart: strength against extraction. One's brews in ink, each with what scale and refractometer
// leave open; the range and the lines of equal ratio in pencil.

import type { ChartRange, RatioLine, TrendPoint } from "../../gen/types.ts";
import { formatNumber } from "../../model/numbers.ts";
import { log } from "../../words.ts";
import { roundAxis } from "./axis.ts";
import { Mark } from "./mark.tsx";
import "./chart.css";

const WIDTH = 350;
const HEIGHT = 300;
const LEFT = 40;
const BOTTOM = 40;
const TOP = 16;
const RIGHT = 30; // room for the names of the lines

type Measured = TrendPoint & { yield: NonNullable<TrendPoint["yield"]> };

export const measured = (points: readonly TrendPoint[]) => points.filter((point): point is Measured => point.yield !== undefined && point.tds > 0);

interface Props {
  points: readonly Measured[];
  range: ChartRange | undefined;
  lines: readonly RatioLine[];
}

export function ControlChart({ points, range, lines }: Props) {
  const [x, y] = scales(points, range);
  const [[left, right], [low, high]] = [x.ends, y.ends];
  return (
    <figure class="chart">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={log.controlLabel}>
        <path class="frame-line" d={`M${LEFT} ${TOP}V${HEIGHT - BOTTOM}H${WIDTH - RIGHT}`} />
        {x.ticks(6).map((tick) => (
          <text key={tick} x={x(tick)} y={HEIGHT - BOTTOM + 15} text-anchor="middle">
            {formatNumber(tick)}
          </text>
        ))}
        {y.ticks(6).map((tick) => (
          <text key={tick} x={LEFT - 6} y={y(tick) + 4} text-anchor="end">
            {formatNumber(tick)}
          </text>
        ))}
        <text x={(LEFT + WIDTH - RIGHT) / 2} y={HEIGHT - 6} text-anchor="middle">
          {log.extraction}
        </text>
        <text transform={`translate(9 ${(TOP + HEIGHT - BOTTOM) / 2}) rotate(-90)`} text-anchor="middle">
          {log.strength}
        </text>
        {lines.map(({ ratio, slope }) => {
          // only the part of the line that crosses the chart
          const from = Math.max(left, low / slope);
          const until = Math.min(right, high / slope);
          if (until <= from) return null;
          return (
            <g key={ratio}>
              <line class="ratio-line" x1={x(from)} y1={y(from * slope)} x2={x(until)} y2={y(until * slope)} />
              <text x={x(until) + 2} y={y(until * slope) - (until < right ? 4 : -4)}>
                {log.ratioLine(formatNumber(ratio, 0))}
              </text>
            </g>
          );
        })}
        {range && (
          <rect
            class="range"
            x={x(range.eyLow)}
            y={y(range.tdsHigh)}
            width={x(range.eyHigh) - x(range.eyLow)}
            height={y(range.tdsLow) - y(range.tdsHigh)}
          />
        )}
        {points.map((point) => (
          <g key={point.brew}>
            <line class="open-ends" x1={x(Math.max(left, point.yield.low))} x2={x(Math.min(right, point.yield.high))} y1={y(point.tds)} y2={y(point.tds)} />
            <line class="open-ends" x1={x(point.yield.value)} x2={x(point.yield.value)} y1={y(Math.max(low, point.tds - point.open))} y2={y(Math.min(high, point.tds + point.open))} />
            <Mark point={point} x={x(point.yield.value)} y={y(point.tds)} />
          </g>
        ))}
      </svg>
      <figcaption class="small soft">
        {log.controlText} {log.key}
      </figcaption>
    </figure>
  );
}

/** Wide enough for the range and for every brew. */
function scales(points: readonly Measured[], range: ChartRange | undefined) {
  const yields = points.map((point) => point.yield.value);
  const strengths = points.map(({ tds }) => tds);
  const ends = (values: number[], low: number, high: number): [number, number] => [Math.min(low, ...values), Math.max(high, ...values)];
  const x = roundAxis(ends([...yields, range?.eyLow ?? 18, range?.eyHigh ?? 22], 15, 25), [LEFT, WIDTH - RIGHT]);
  const y = roundAxis(ends([...strengths, range?.tdsLow ?? 1.15, range?.tdsHigh ?? 1.35], 0.9, 1.6), [HEIGHT - BOTTOM, TOP]);
  return [x, y] as const;
}
