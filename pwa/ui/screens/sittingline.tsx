// The steps of a sitting, on every screen of it: done, now, still to come. And the one button that leads on.

import { useEffect } from "preact/hooks";
import type { SittingStep, SittingView } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import { Button } from "../parts/button/button.tsx";
import { paths } from "../paths.ts";
import { sitting } from "../words.ts";
import "./sitting.css";

const STEPS: readonly SittingStep[] = ["look", "smell", "brew", "wet", "cup", "guess"];

interface Of {
  club: string;
  sample: string;
}

const useSitting = ({ club, sample }: Of) => useView("sitting", { club, sample }).value;

/** Being on a screen is how a sitting comes so far; a step that was passed over counts as skipped. */
export function SittingLine({ club, sample, at }: Of & { at?: SittingStep }) {
  const view = useSitting({ club, sample });
  const out = view?.out ?? true;
  useEffect(() => {
    if (at && !out) void command("sitting.step", { club, sample, step: at }).catch(() => {}); // the next screen says it again
  }, [at, out]);
  if (!view) return <div class="sitting-room" />; // a finger on what stands below must not miss it
  if (out) return null;
  return (
    <nav class="sitting no-print" aria-label={sitting.line}>
      {STEPS.map((step) => {
        const done = view.done.includes(step);
        return (
          <a key={step} href={stepPath(view, step)} class={`${done ? "done" : ""}${step === at ? " here" : ""}`} aria-current={step === at ? "step" : undefined}>
            <span class="sitting-dot" aria-hidden="true" />
            <span class="sitting-step">{sitting.step[step]}</span>
            {done && <span class="unseen">, {sitting.stepDone}</span>}
          </a>
        );
      })}
    </nav>
  );
}

/** Leads to the next step that is not done; where there is no sitting, to the sample. */
export function OnWith({ club, sample, from }: Of & { from: SittingStep }) {
  const view = useSitting({ club, sample });
  const step = onward(view, from);
  return (
    <Button kind="primary" href={view && !view.out ? stepPath(view, step) : paths.sample(club, sample)}>
      {sitting.onWith[step]}
    </Button>
  );
}

function onward(view: SittingView | undefined, from: SittingStep): SittingStep {
  const later = STEPS.slice(STEPS.indexOf(from) + 1);
  return later.find((step) => !view?.done.includes(step)) ?? "guess";
}

export function stepPath({ club, sample, brew, state }: Pick<SittingView, "club" | "sample" | "brew" | "state">, step: SittingStep): string {
  switch (step) {
    case "brew":
      return brew && state !== "done" ? paths.brew(brew.book, brew.brew) : paths.brewOf(club, sample);
    case "guess":
      return paths.guess(club, sample);
    case "cup":
      return brew ? paths.cup(brew.book, brew.brew) : paths.notice(club, sample, step);
    default:
      return paths.notice(club, sample, step);
  }
}
