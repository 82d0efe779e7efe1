// The steps of a plan in words.

import type { PlanStep } from "../gen/types.ts";
import { pours, type Band } from "./guide.ts";
import { formatNumber } from "./numbers.ts";
import { formatClock } from "./times.ts";
import { formatWeight } from "./units.ts";
import * as words from "../words.ts";
import { bench } from "../words.ts";

export const grams = (value: number) => formatWeight(value, 0);
export const clock = (seconds: number) => formatClock(seconds * 1000);

/** pour 105 g; wait 20 s; swirl, twice. */
export function bandWords(band: Band): string {
  const what = words.step[band.kind];
  if (pours(band.kind) || band.kind === "bypass") return `${what} ${grams(band.adds)}`;
  if (band.times > 0) return bench.times(what, band.times);
  if (band.kind === "wait") return `${what} ${waitWords(band.until - band.from)}`;
  return what;
}

/** in a spiral, 6 g/s. */
export function bandNote(band: Band): string {
  const notes = [band.pattern && words.pattern[band.pattern], band.flow > 0 ? bench.flow(formatNumber(band.flow, 0)) : ""];
  return notes.filter(Boolean).join(", ");
}

export const waitWords = (seconds: number) => (seconds < 90 ? bench.seconds(formatNumber(seconds, 0)) : clock(seconds));

/** 0:45, pour to 150 g, in a spiral, until 1:03. */
export function stepSentence(band: Band): string {
  const until = band.kind === "wait" || pours(band.kind) ? bench.until(clock(band.until)) : "";
  return [clock(band.from), doing(band), band.pattern && words.pattern[band.pattern], until].filter(Boolean).join(", ");
}

/** pour to 150 g. */
export function doing(band: Band | PlanStep): string {
  const what = words.step[band.kind];
  if (pours(band.kind)) return bench.pourTo(what, grams(band.to));
  if (band.kind === "bypass") return `${what}: ${grams(band.adds)}`;
  return band.times > 0 ? bench.times(what, band.times) : what;
}
