// What the pour guide shows at a moment: the bands of its strip, what runs and what comes, and what one touch would record.
// Nothing here knows a clock or a screen.

import type { BrewMarked, Mark, Plan, PlanStep, StepKind } from "../gen/types.ts";

/** A piece of the strip: a step of the plan, or bare paper between two. Seconds are from the start, lengths in rem. */
export interface Band {
  kind: StepKind;
  /** Of the plan, from 1; 0 for bare paper between two steps. */
  step: number;
  from: number;
  until: number;
  /** Grams; 0 for what is no pour. */
  adds: number;
  to: number;
  pattern: PlanStep["pattern"];
  times: number;
  flow: number;
  top: number;
  length: number;
}

/** Lengths of the strip: a pour is as long as its grams, anything else as its seconds, and none too short to be read. */
const REM_A_GRAM = 0.08;
const REM_A_SECOND = 0.16;
const SHORTEST = 3;
/** What takes no time worth noting and has nothing after it. */
const A_MOMENT = 5;

export const pours = (kind: StepKind) => kind === "bloom" || kind === "pour";

/** What hands do before the clock starts. */
export const before = (plan: Plan) => plan.steps.filter((step) => step.at < 0);

/** Is there anything to guide? */
export const guides = (plan: Plan | undefined): plan is Plan => plan !== undefined && plan.steps.some((step) => step.at >= 0);

export function bandsOf(plan: Plan): Band[] {
  const bands: Band[] = [];
  const add = (band: Omit<Band, "top" | "length">) => {
    const last = bands.at(-1);
    const span = band.until - band.from;
    const length = Math.max(SHORTEST, pours(band.kind) ? band.adds * REM_A_GRAM : span * REM_A_SECOND);
    bands.push({ ...band, top: last ? last.top + last.length : 0, length });
  };
  plan.steps.forEach((step, i) => {
    if (step.at < 0) return;
    const after = plan.steps.slice(i + 1).find(({ at }) => at >= 0)?.at;
    const until = step.until > step.at ? step.until : (after ?? step.at + A_MOMENT);
    add({ ...step, step: i + 1, from: step.at, until: after === undefined ? until : Math.min(until, after) });
    if (after !== undefined && after > until) {
      add({ kind: "wait", step: 0, from: until, until: after, adds: 0, to: 0, pattern: "", times: 0, flow: 0 });
    }
  });
  return bands;
}

/** Which band lies under the line; -1 before the first and after the last. */
export const bandAt = (bands: readonly Band[], seconds: number) => bands.findIndex(({ from, until }) => from <= seconds && seconds < until);

/** How far the strip has slid, in rem. */
export function slidAt(bands: readonly Band[], seconds: number): number {
  const last = bands.at(-1);
  if (!last || seconds <= bands[0]!.from) return 0;
  const band = bands[bandAt(bands, seconds)];
  if (!band) return last.top + last.length;
  const span = band.until - band.from;
  return band.top + (span > 0 ? ((seconds - band.from) / span) * band.length : 0);
}

/** What the scale should show at a moment of a pour. */
export function gramsAt(band: Band, seconds: number): number {
  const span = band.until - band.from;
  const part = span > 0 ? Math.min(1, Math.max(0, (seconds - band.from) / span)) : 1;
  return band.to - band.adds * (1 - part);
}

/** What comes after a band, bare waits left out. */
export const nextOf = (bands: readonly Band[], at: number) => bands.slice(at + 1).find(({ kind }) => kind !== "wait");

/** Something that a touch may record, and when it is planned. */
export interface Touch {
  mark: Mark;
  step: number;
  grams: number;
  at: number;
  /** Until when the button means this, when nothing is touched. */
  lasts: number;
}

/** A pour that has not been touched so long after its begin is taken as begun. */
const BEGUN_AFTER = 4;

const ends: { [kind in StepKind]?: boolean } = { drain: true, press: true, decant: true };
const noTouch: { [kind in StepKind]?: boolean } = { wait: true, preheat: true, rinse: true, add: true, taste: true };

/** All that can be touched, in the order of the plan. The last one stops the clock. */
export function touchesOf(plan: Plan): Touch[] {
  const list: Omit<Touch, "lasts">[] = [];
  const timed = bandsOf(plan).filter(({ step, kind }) => step > 0 && !noTouch[kind]);
  timed.forEach((band, i) => {
    const { kind, step, from, until, to } = band;
    if (pours(kind)) {
      if (from > 0) list.push({ mark: "pour", step, grams: 0, at: from });
      list.push({ mark: "poured", step, grams: to, at: until });
      return;
    }
    const last = i === timed.length - 1;
    if (last && ends[kind]) list.push({ mark: "end", step, grams: 0, at: until });
    else list.push({ mark: kind as Mark, step, grams: kind === "bypass" ? band.adds : 0, at: ends[kind] ? until : from });
  });
  if (list.at(-1)?.mark !== "end") list.push({ mark: "end", step: 0, grams: 0, at: plan.ends });
  return list.map((touch, i) => {
    const after = list[i + 1];
    const middle = after ? (touch.at + after.at) / 2 : Infinity;
    return { ...touch, lasts: touch.mark === "pour" ? Math.min(middle, touch.at + BEGUN_AFTER) : middle };
  });
}

/** What the big button records now: the first thing that is not marked yet and not long over. */
export function touchAt(touches: readonly Touch[], marks: readonly BrewMarked[], seconds: number): Touch {
  let first = 0;
  touches.forEach((touch, i) => {
    if (marks.some(({ mark, step }) => mark === touch.mark && step === touch.step)) first = i + 1;
  });
  const open = touches.slice(Math.min(first, touches.length - 1));
  return open.find(({ lasts }) => seconds < lasts) ?? open.at(-1)!;
}

/** How far the touches so far are from the plan, in seconds; undefined before the first. */
export function withinOf(touches: readonly Touch[], marks: readonly BrewMarked[]): number | undefined {
  const off = marks.flatMap(({ mark, step, at }) => {
    const planned = touches.find((touch) => touch.mark === mark && touch.step === step);
    return planned && mark !== "end" ? [Math.abs(planned.at - at)] : [];
  });
  return off.length > 0 ? Math.max(...off) : undefined;
}

/** Steps that began between two moments, waits left out: what was missed. */
export const missed = (bands: readonly Band[], from: number, until: number) =>
  bands.filter((band) => band.kind !== "wait" && band.from < until && (pours(band.kind) ? band.until : band.from) > from);
