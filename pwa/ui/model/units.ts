// Weights and temperatures as the person wants them. The core speaks grams and °C; this is the one place where they become
// ounces and °F, and back.

import { signal } from "@preact/signals";
import type { NotebookView } from "../gen/types.ts";
import { formatNumber, type Range } from "./numbers.ts";

export interface Unit {
  name: string;
  /** From what the core says to what is shown, and back. */
  show(value: number): number;
  take(shown: number): number;
  /** Decimals that are worth reading, of a value of the core's. */
  decimals(value: number): number;
}

/** The avoirdupois ounce, exactly (international yard and pound agreement, 1959). */
const OUNCE = 28.349523125;

const same = (value: number) => value;
const gram: Unit = { name: "g", show: same, take: same, decimals: () => 1 };
const ounce: Unit = { name: "oz", show: (grams) => grams / OUNCE, take: (oz) => oz * OUNCE, decimals: (grams) => (grams < 10 * OUNCE ? 2 : 1) };
const celsius: Unit = { name: "°C", show: same, take: same, decimals: () => 0 };
const fahrenheit: Unit = { name: "°F", show: (c) => c * 1.8 + 32, take: (f) => (f - 32) / 1.8, decimals: () => 0 };

export const weight = signal<Unit>(gram);
export const temperature = signal<Unit>(celsius);

/** Follows what the person chose; whoever draws a weight is drawn again when it changes. */
export function chooseUnits(chosen: Pick<NotebookView, "weight" | "temperature"> | undefined): void {
  if (!chosen) return;
  weight.value = chosen.weight === "oz" ? ounce : gram;
  temperature.value = chosen.temperature === "F" ? fahrenheit : celsius;
}

/** 15.5 g, 0.53 oz. */
export const formatWeight = (grams: number, decimals?: number): string => format(weight.value, grams, decimals);

/** 92 °C, 198 °F. */
export const formatTemperature = (degrees: number, decimals?: number): string => format(temperature.value, degrees, decimals);

/** A weight's number and its unit, where they are set apart. */
export function weightParts(grams: number, decimals?: number): { value: string; unit: string } {
  return { value: numberIn(weight.value, grams, decimals), unit: weight.value.name };
}

function format(unit: Unit, value: number, decimals?: number): string {
  return `${numberIn(unit, value, decimals)}\u00a0${unit.name}`;
}

function numberIn(unit: Unit, value: number, decimals = unit.decimals(value)): string {
  return formatNumber(unit.show(value), unit === ounce ? unit.decimals(value) : decimals);
}

/** What a field may hold, in the person's unit. Limits become round numbers inside the core's. */
export function rangeIn(unit: Unit, range: Range): Range {
  const shown = (value: number) => Math.round(unit.show(value) * 100) / 100;
  const { unit: _, usual, ...rest } = range;
  return { ...rest, min: shown(range.min), max: shown(range.max), unit: unit.name, ...(usual && { usual: [shown(usual[0]), shown(usual[1])] as [number, number] }) };
}

/** As it stands in a field: no more decimals than somebody would type. */
export const shownIn = (unit: Unit, value: number): number => Math.round(unit.show(value) * 1000) / 1000;
