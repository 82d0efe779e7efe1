// A recipe while it is being written: water typed as grams at its dose and kept as a share, steps that move with their times.

import type { Recipe, RecipeStep, StepKind } from "../gen/types.ts";

type Size = Pick<Recipe, "dose" | "ratio">;

/** Done before the clock starts. */
const early: ReadonlySet<StepKind> = new Set(["preheat", "rinse", "add"]);
const BEFORE = -60;

/** Steps that bring water, and steps that are counted. */
export const wets = (kind: StepKind) => kind === "bloom" || kind === "pour" || kind === "bypass";
export const counts = (kind: StepKind) => kind === "stir" || kind === "swirl" || kind === "break";
export const isEarly = (kind: StepKind) => early.has(kind);

const waterOf = ({ dose, ratio }: Size) => dose * ratio;
const tenth = (value: number) => Math.round(value * 10) / 10;

/** Grams that a step says at the recipe's dose: what the scale shows after it, or what is added to the cup. */
export function gramsOf(step: RecipeStep, size: Size): number {
  if (step.kind === "bloom" && step.dose > 0) return tenth(step.dose * size.dose);
  return tenth(step.water * waterOf(size));
}

/** The same step with other grams: a bloom goes by the dose, all else by the water. */
export function withGrams(step: RecipeStep, grams: number, size: Size): RecipeStep {
  if (step.kind === "bloom") return { ...step, dose: size.dose > 0 ? grams / size.dose : NaN, water: 0 };
  const all = waterOf(size);
  const share = all > 0 ? grams / all : NaN;
  // half a gram short of all of it is all of it: nobody types hundredths
  return { ...step, water: Math.abs(share - 1) * all < 0.5 ? 1 : share, dose: 0 };
}

const lasting: { [kind in StepKind]?: number } = { bloom: 10, pour: 20, wait: 30, drain: 60, press: 30, decant: 15 };
const often: { [kind in StepKind]?: number } = { stir: 3, swirl: 1, break: 3 };

const endOf = ({ at, until }: RecipeStep) => Math.max(at, until);
const spanOf = (step: RecipeStep) => Math.max(0, endOf(step) - step.at);

/** A step with a sensible start, at a moment. */
function stepAt(kind: StepKind, at: number): RecipeStep {
  const span = lasting[kind] ?? 0;
  return {
    kind, at: isEarly(kind) ? BEFORE : at, until: isEarly(kind) || span === 0 ? 0 : at + span,
    water: kind === "pour" ? 1 : kind === "bypass" ? 0.2 : 0, dose: kind === "bloom" ? 2.5 : 0, pattern: "", times: often[kind] ?? 0,
  };
}

/** Where a new step of a kind goes: what is early after what is early, all else at the end. */
export function placeFor(kind: StepKind, steps: readonly RecipeStep[]): number {
  const timed = steps.findIndex(({ at }) => at >= 0);
  return isEarly(kind) && timed >= 0 ? timed : steps.length;
}

export const newStep = (kind: StepKind, steps: readonly RecipeStep[]): RecipeStep => stepAt(kind, Math.max(0, ...steps.map(endOf)));

/** Another thing to do at the same moment, as long as the one before it where both take time. */
export function withKind(step: RecipeStep, kind: StepKind): RecipeStep {
  const fresh = stepAt(kind, Math.max(0, step.at));
  if (wets(kind) && wets(step.kind)) return { ...fresh, until: step.until, pattern: step.pattern, ...(kind === "bloom" ? {} : { water: step.water || fresh.water }) };
  return fresh;
}

/** Can a step change places with the one above it? Nothing goes from one side of the clock's start to the other. */
export const canRise = (steps: readonly RecipeStep[], i: number) => i > 0 && i < steps.length && steps[i]!.at < 0 === steps[i - 1]!.at < 0;

/** Two neighbours change places, and their times with them: each keeps how long it takes, and the pause between them stays. */
export function swapped(upper: RecipeStep, lower: RecipeStep): [upper: RecipeStep, lower: RecipeStep] {
  if (upper.at < 0) return [lower, upper];
  const pause = Math.max(0, lower.at - endOf(upper));
  return [shifted(lower, upper.at - lower.at), shifted(upper, spanOf(lower) + pause)];
}

const shifted = (step: RecipeStep, by: number): RecipeStep => ({ ...step, at: step.at + by, until: step.until > 0 ? step.until + by : 0 });
