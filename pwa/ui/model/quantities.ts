// How quantities of a brew are read: each in its unit, an interval by its two ends, a balance from -100 to 100.

import type { Attribute, BalanceMark, BrewSetup, Expected, Interval, Quantity, TrendPoint } from "../gen/types.ts";
import { formatFixed, formatNumber } from "./numbers.ts";
import { formatClock } from "./times.ts";
import { formatWeight } from "./units.ts";
import * as words from "../words.ts";

export const attributes: readonly Attribute[] = ["acid", "sweet", "bitter", "body", "finish"];

const tasted = (of: string): of is Attribute => (attributes as readonly string[]).includes(of);

/** A signed number with a true minus. */
function signed(value: number, decimals: number): string {
  const text = formatNumber(Math.abs(value), decimals);
  if (Number(Math.abs(value).toFixed(decimals)) === 0) return text;
  return (value > 0 ? "+" : "−") + text;
}

/** A mark of a balance as people read it: 0 in agreement, −100 far too little. */
export const formatMark = (mark: number) => signed(mark / 10, 0);

/** A share as a difference in percent; a tasted quantity in hundredths. */
export function formatApart(of: Quantity, by: number): string {
  return tasted(of) ? signed(100 * by, 0) : `${signed(100 * by, 1)}\u00a0%`;
}

/** How far brews of one recipe lie apart: without a sign. */
export function formatSpread(of: Quantity, by: number): string {
  return tasted(of) ? formatNumber(100 * by, 0) : `${formatNumber(100 * by, 1)}\u00a0%`;
}

/** What is expected of a cup, in its own unit. */
export function formatExpected(of: Expected["of"], value: number): string {
  if (of === "seconds") return formatClock(1000 * Math.max(0, value));
  if (of === "tds") return `${formatFixed(value, 2)}\u00a0%`;
  if (of === "ey") return `${formatFixed(value, 1)}\u00a0%`;
  return signed(100 * value, 0);
}

/** As a column has it whose head says percent. */
export const strengthEnds = ({ tds, open }: Pick<TrendPoint, "tds" | "open">) => tds > 0 && `${formatFixed(tds - open, 2)}–${formatFixed(tds + open, 2)}`;

/** As a column has it whose head says percent. */
export const yieldEnds = ({ low, high }: Interval) => `${formatFixed(low, 1)}–${formatFixed(high, 1)}`;

export const formatYield = (ends: Interval) => `${yieldEnds(ends)}\u00a0%`;

/** Acid −20, body 0. */
export function balanceLine(marks: readonly BalanceMark[]): string {
  return attributes.flatMap((of) => marks.filter((mark) => mark.of === of).map(({ mark }) => `${words.attribute[of]} ${formatMark(mark)}`)).join(", ");
}

/** 15 g to 248 g; 2 scoops to 240 g; 15 g. */
export function doseLine({ dose, scoops, water }: Pick<BrewSetup, "dose" | "scoops" | "water">): string {
  const coffee = dose > 0 ? formatWeight(dose) : scoops > 0 ? words.bench.scoopsOf(formatNumber(scoops)) : "";
  return coffee && water > 0 ? words.bench.doseTo(coffee, formatWeight(water, 0)) : coffee;
}
