// After an absence: what was missed, and what happened. The clock went on and is right; only the person knows what hands did.

import { useEffect, useRef, useState } from "preact/hooks";
import type { Asked, BrewView, Mark } from "../gen/types.ts";
import { lastSeen, noteSeen } from "../model/absence.ts";
import { command } from "../model/core.ts";
import { missed, pours, type Band } from "../model/guide.ts";
import { clock, doing } from "../model/guidewords.ts";
import { Button } from "../parts/button/button.tsx";
import { DurationField } from "../parts/field/field.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { bench, common } from "../words.ts";

export interface Away {
  from: number;
  until: number;
}

/** A glance elsewhere that missed nothing is no absence. */
const GLANCE_SECONDS = 2;

export function useAbsence(view: BrewView, bands: readonly Band[], seconds: number): Away | undefined {
  const asking = view.absent && view.outcome.asked === "";
  const [away, setAway] = useState<Away>();
  const seen = useRef<number | undefined>(undefined);
  const hidden = document.visibilityState !== "visible";
  const leave = (from: number) => {
    if (seconds - from > GLANCE_SECONDS && missed(bands, from, seconds).length > 0) setAway({ from, until: seconds });
  };
  useEffect(() => {
    // the core doubts the clock: the phone slept, or the app was started anew
    if (asking) setAway({ from: lastSeen(view.brew) ?? view.marks.at(-1)?.at ?? 0, until: seconds });
    else if (view.outcome.asked !== "") setAway(undefined);
  }, [asking, view.outcome.asked]);
  useEffect(() => {
    if (hidden || asking) return;
    const before = seen.current;
    seen.current = seconds;
    if (before !== undefined) leave(before);
    noteSeen(view.brew, seconds);
  }, [Math.floor(seconds), hidden]);
  return away;
}

export function Absence({ view, bands, absence }: { view: BrewView; bands: readonly Band[]; absence: Away }) {
  const doings = useDoing();
  const [times, setTimes] = useState<(number | undefined)[]>();
  const lost = missed(bands, absence.from, absence.until).filter((band) => !view.marks.some(({ step }) => step === band.step));
  const later = (time = 0) => time > absence.until;
  const id = { book: view.book, brew: view.brew };
  const say = async (asked: Asked, at: readonly (number | undefined)[] | undefined) => {
    await doings.run(async () => {
      for (const [i, band] of lost.entries()) {
        const time = at?.[i];
        if (time !== undefined) await markThen(view, band, time);
      }
      await command("brew.edit", { ...id, outcome: { ...view.outcome, asked }, sure: [] });
    });
  };
  return (
    <section class="absence stack close" aria-label={bench.absent}>
      <h2>{bench.absent}</h2>
      <p class="unseen" role="alert">
        {bench.absent}
      </p>
      <p>
        {bench.missed(clock(absence.from), clock(absence.until))} {lost.length === 0 && bench.missedNothing}
      </p>
      {lost.length > 0 && (
        <ul>
          {lost.map((band) => (
            <li key={band.step}>
              {clock(band.from)} {doing(band)}
            </li>
          ))}
        </ul>
      )}
      <Problem refusal={doings.refusal} />
      {times ? (
        <>
          {lost.map((band, i) => (
            <DurationField
              key={band.step}
              label={bench.about(doing(band))}
              value={times[i]}
              onValue={(value) => setTimes(times.map((time, each) => (each === i ? value : time)))}
              error={later(times[i]) ? bench.backAt(clock(absence.until)) : undefined}
              wet
            />
          ))}
          <Button wet busy={doings.busy} disabled={times.some((time) => Number.isNaN(time) || later(time))} onPress={() => void say("roughly", times)}>
            {bench.keepTimes}
          </Button>
          <Button kind="quiet" onPress={() => setTimes(undefined)}>
            {common.cancel}
          </Button>
        </>
      ) : (
        <div class="pair">
          <Button wet busy={doings.busy} onPress={() => void say("planned", lost.map(({ from }) => from))}>
            {bench.wentAsPlanned}
          </Button>
          {lost.length > 0 && (
            <Button wet busy={doings.busy} onPress={() => setTimes(lost.map(({ from }) => from))}>
              {bench.wentRoughly}
            </Button>
          )}
          <Button wet busy={doings.busy} onPress={() => void say("unknown", undefined)}>
            {bench.wentUnknown}
          </Button>
        </div>
      )}
    </section>
  );
}

/** The longest that a mark may be given afterwards. */
const MOST_AGO = 24 * 3_600_000;

/** Marks what the person says happened then. */
async function markThen(view: BrewView, band: Band, time: number): Promise<void> {
  const ago = Math.round(Date.now() - view.began - time * 1000);
  if (ago < 0 || ago > MOST_AGO) return; // corrected by hand when it is over
  const mark: Mark = pours(band.kind) ? (band.kind === "bloom" ? "bloom" : "pour") : band.kind === "drain" ? "end" : (band.kind as Mark);
  if (mark === "end") return; // only a touch stops the clock
  await command("brew.mark", { book: view.book, brew: view.brew, mark, step: band.step, grams: band.to, ago });
}
