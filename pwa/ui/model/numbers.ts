// Numbers as people type and read them. A decimal comma is a decimal point; a space groups; anything else is refused, and
// so is what could mean two things ("1.234,5").

import type { Factor } from "../gen/types.ts";
import { numbers } from "./formats.ts";
import * as words from "../words.ts";

/** What a field may hold, in its unit. Outside min and max is impossible and refused; outside usual is asked about. */
export interface Range {
  min: number;
  max: number;
  usual?: [number, number];
  unit?: string;
  /** Only whole numbers. */
  whole?: boolean;
}

export type Reading = { value: number | undefined; error?: undefined; question?: string } | { value?: undefined; error: string };

/** Reads a typed number. Empty is no value and no error; a required field asks for that itself. */
export function readNumber(text: string, range: Range): Reading {
  const value = parseNumber(text);
  if (value === undefined) return { value: undefined };
  if (Number.isNaN(value)) return { error: words.field.notANumber };
  if (range.whole && !Number.isInteger(value)) return { error: words.field.whole };
  if (value < range.min || value > range.max) {
    return { error: words.field.outside(formatNumber(range.min), formatNumber(range.max), range.unit) };
  }
  if (range.usual && (value < range.usual[0] || value > range.usual[1])) {
    return { value, question: words.field.surprising(formatNumber(value), range.unit) };
  }
  return { value };
}

/** undefined for an empty text, NaN for one that is no number. */
export function parseNumber(text: string): number | undefined {
  const bare = text.replace(/[\s\u00a0\u202f]/g, "");
  if (bare === "") return undefined;
  if (!/^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/.test(bare)) return NaN;
  return Number(bare.replace(",", "."));
}

/** In the person's locale, with at most so many decimals. */
export function formatNumber(value: number, decimals = 2): string {
  return numbers({ maximumFractionDigits: decimals, useGrouping: "min2" as never }).format(value);
}

/** With all its decimals: for the two ends of an interval. */
export function formatFixed(value: number, decimals: number): string {
  return numbers({ minimumFractionDigits: decimals, maximumFractionDigits: decimals, useGrouping: "min2" as never }).format(value);
}

/** As it stands in a field that is typed in again: no grouping. */
export function editNumber(value: number | undefined): string {
  return value === undefined ? "" : numbers({ maximumFractionDigits: 4, useGrouping: false }).format(value);
}

/** A score as a factor against a blind guess: ×4 or ÷4. */
export function formatFactor({ up, times }: Factor): string {
  if (times === 0) return "–"; // there is no such case
  return (up || times === 1 ? "×" : "÷") + formatNumber(times, 1);
}

/** A belief in ten-thousandths, as per cent. */
export function formatShare(share: number): string {
  const percent = share / 100;
  if (share > 0 && percent < 0.5) return "<1 %";
  return `${Math.round(percent)}\u00a0%`;
}

/** A blind code as it is spoken: digit by digit. */
export function spokenCode(code: string): string {
  return [...code].join(" ");
}
