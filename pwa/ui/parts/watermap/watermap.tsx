// Hardness against alkalinity: the trade's ranges in pencil, a water as a drop of ink, a target as a ring. What it shows also
// stands in words beside it.

import type { WaterRange } from "../../gen/types.ts";
import { formatNumber } from "../../model/numbers.ts";
import * as words from "../../words.ts";
import "./watermap.css";

interface Point {
  hardness: number;
  alkalinity: number;
}

interface Props {
  ranges: readonly WaterRange[];
  here?: Point | undefined;
  aim?: Point | undefined;
}

const WIDTH = 300;
const HEIGHT = 190;
const LEFT = 52;
const BOTTOM = 34;

/** The least that both axes show, in mg/L as CaCO3; they grow with what is to be seen. */
const LEAST = { alkalinity: 120, hardness: 200 };

export function WaterMap({ ranges, here, aim }: Props) {
  const points = [here, aim].filter((point) => point !== undefined);
  const most = (of: keyof Point) => Math.max(LEAST[of], ...points.map((point) => point[of] * 1.1));
  const across = scale(most("alkalinity"), LEFT, WIDTH - 8);
  const up = scale(most("hardness"), HEIGHT - BOTTOM, 8);
  return (
    <svg class="watermap" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={words.water.map}>
      <path class="frame-line" d={`M${LEFT} 8V${HEIGHT - BOTTOM}H${WIDTH - 8}`} />
      {ticks(most("alkalinity")).map((at) => (
        <text key={at} x={across(at)} y={HEIGHT - BOTTOM + 14} text-anchor="middle">
          {formatNumber(at, 0)}
        </text>
      ))}
      {ticks(most("hardness")).map((at) => (
        <text key={at} x={LEFT - 6} y={up(at) + 4} text-anchor="end">
          {formatNumber(at, 0)}
        </text>
      ))}
      <text x={(LEFT + WIDTH) / 2} y={HEIGHT - 4} text-anchor="middle">
        {words.water.alkalinity}
      </text>
      <text transform={`translate(12 ${(HEIGHT - BOTTOM) / 2}) rotate(-90)`} text-anchor="middle">
        {words.water.hardness}
      </text>
      {ranges.map((range) => (
        <g key={range.id}>
          <rect
            class="range"
            x={across(range.alkalinityLow)}
            y={up(range.hardnessHigh)}
            width={across(range.alkalinityHigh) - across(range.alkalinityLow)}
            height={up(range.hardnessLow) - up(range.hardnessHigh)}
          />
          <text x={across(range.alkalinityHigh) + 4} y={up(range.hardnessHigh) + 10}>
            {range.year}
          </text>
        </g>
      ))}
      {here && aim && <path class="aim-line" d={`M${across(here.alkalinity)} ${up(here.hardness)}L${across(aim.alkalinity)} ${up(aim.hardness)}`} />}
      {aim && <circle class="aim" cx={across(aim.alkalinity)} cy={up(aim.hardness)} r="8" />}
      {here && <circle class="here" cx={across(here.alkalinity)} cy={up(here.hardness)} r="6" />}
    </svg>
  );
}

const scale = (most: number, from: number, to: number) => (value: number) => from + (Math.min(value, most) / most) * (to - from);

/** Four or so round numbers. */
function ticks(most: number): number[] {
  const step = [10, 20, 25, 50, 100, 200, 250, 500, 1000].find((each) => most / each <= 5) ?? most;
  return Array.from({ length: Math.floor(most / step) + 1 }, (_, index) => index * step);
}
