// Where a value stands on a drawing: straight from one range to another, with ticks at round values.

import { nice, ticks } from "d3-array";

type Ends = [number, number];

export interface Axis {
  (value: number): number;
  ends: Ends;
  /** About that many round values within the ends. */
  ticks(count: number): number[];
}

export function axis(ends: Ends, [start, end]: Ends): Axis {
  const [low, high] = ends;
  const place = (value: number) => start + ((value - low) / (high - low)) * (end - start);
  return Object.assign(place, { ends, ticks: (count: number) => ticks(low, high, count) });
}

/** The same, its ends moved outwards to round values. */
export const roundAxis = ([low, high]: Ends, place: Ends): Axis => axis(nice(low, high, 10), place);
