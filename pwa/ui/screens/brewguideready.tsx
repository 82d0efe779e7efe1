// Before the clock: what to do first, how it sounds, what a browser does not promise, and one button.

import { useState } from "preact/hooks";
import type { BrewView, Plan } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import { bandsOf, before, pours } from "../model/guide.ts";
import { doing as stepWords, grams } from "../model/guidewords.ts";
import { takenBack } from "../model/takenback.ts";
import { HoldButton } from "../parts/hold/hold.tsx";
import { Button } from "../parts/button/button.tsx";
import { Page } from "../parts/page/page.tsx";
import { PourStrip } from "../parts/pourstrip/pourstrip.tsx";
import { allowSound, shake, sound } from "../parts/sound/sound.ts";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import { bench } from "../words.ts";
import { brewTitle, setupLine } from "./brew.tsx";
import { Discard } from "./brewclock.tsx";
import { planLine } from "./brewformplan.tsx";

export function Ready({ view, plan }: { view: BrewView; plan: Plan }) {
  const doing = useDoing();
  const person = useView("person").value;
  const bands = bandsOf(plan);
  const first = bands[0]!;
  const start = async (ago: number) => {
    allowSound();
    const id = { book: view.book, brew: view.brew };
    const pouring = first.from === 0 && pours(first.kind);
    const mark = pouring ? (first.kind === "bloom" ? "bloom" : "pour") : "start";
    await doing.run(() => command("brew.mark", { ...id, mark, step: pouring ? first.step : 0, grams: 0, ago }));
  };
  const prepare = before(plan);
  return (
    <Page
      title={brewTitle(view)}
      above={paths.bench}
      aside={setupLine(view)}
      action={
        <>
          <Problem refusal={doing.refusal} />
          <p class="small taken" role="status">
            {takenBack(view)}
          </p>
          <HoldButton tall onHeld={(ago) => void start(ago)} busy={doing.busy} hint={pours(first.kind) ? bench.startHint(grams(first.to)) : bench.holdHint}>
            {bench.holdStart}
          </HoldButton>
        </>
      }
    >
      <div class={person?.left ? "guide ready mirrored" : "guide ready"}>
        <PourStrip bands={bands} seconds={0} still />
        <div class="stack">
          <p>
            <strong>{planLine(plan)}</strong>
          </p>
          {plan.capped && <p class="soft">{bench.capped}</p>}
          {prepare.length > 0 && (
            <div class="stack close">
              <h2>{bench.first}</h2>
              <ol class="guide-first">
                {prepare.map((step, i) => (
                  <li key={i}>{stepWords(step)}</li>
                ))}
              </ol>
            </div>
          )}
          <SoundTest quiet={person?.quiet ?? false} />
        </div>
      </div>
      <p class="small soft">{bench.hiddenText}</p>
      <Discard view={view} />
    </Page>
  );
}

/** A sound test before the water boils, and the switch for a house that sleeps. */
function SoundTest({ quiet }: { quiet: boolean }) {
  const person = useView("person").value;
  const [heard, setHeard] = useState(false);
  const test = () => {
    allowSound();
    shake("start");
    sound("start");
    setTimeout(() => sound("stop"), 900);
    setHeard(true);
  };
  return (
    <div class="stack close">
      {!quiet && (
        <Button wet onPress={test}>
          {bench.soundTest}
        </Button>
      )}
      {heard && !quiet && (
        <p class="small soft" role="status">
          {bench.soundHeard}
        </p>
      )}
      {person && (
        <Button wet pressed={quiet} onPress={() => void command("person.save", { ...person, quiet: !quiet }).catch(() => {})}>
          {bench.quiet}
        </Button>
      )}
    </div>
  );
}
