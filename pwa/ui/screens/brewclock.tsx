// The clock beside the brewer. Everything is large, the buttons take wet hands, and each touch is on the disk before it is
// shown as marked. The clock itself needs no touch: it is right after an absence, a reload, a night.

import { useState } from "preact/hooks";
import type { BrewView, Mark, Method } from "../gen/types.ts";
import { useBrewClock } from "../model/brewclock.ts";
import { command } from "../model/core.ts";
import { go } from "../model/router.ts";
import { takeBack, takenBack } from "../model/takenback.ts";
import { formatClock } from "../model/times.ts";
import { formatWeight } from "../model/units.ts";
import { Button } from "../parts/button/button.tsx";
import { HoldButton } from "../parts/hold/hold.tsx";
import { WeightField } from "../parts/measure/measure.tsx";
import { Page } from "../parts/page/page.tsx";
import { Problem, useDoing, type Doing } from "../parts/status/status.tsx";
import { Sure } from "../parts/sure/sure.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { bench } from "../words.ts";
import { brewTitle, setupLine } from "./brew.tsx";
import { Disputed } from "./brewdisputed.tsx";
import { ranges } from "./brewsetup.tsx";

/** What hands do besides pouring, by method. */
const extras: { [method in Method]: readonly Mark[] } = {
  drip: ["stir", "swirl"],
  steep: ["stir", "swirl"],
  press: ["stir", "press"],
  bowl: ["stir"],
  other: ["stir", "swirl", "press"],
};

export function BrewClock({ view }: { view: BrewView }) {
  const running = view.state === "going";
  const clock = useBrewClock(view.began, running);
  const { elapsed } = clock;
  const [grams, setGrams] = useState<number | undefined>();
  const doing = useDoing();
  const id = { book: view.book, brew: view.brew };

  const mark = async (what: Mark, ago: number, weight = 0) => {
    await doing.run(async () => {
      await command("brew.mark", { ...id, mark: what, grams: weight, step: 0, ago: what === "start" ? 0 : ago });
      if (weight) setGrams(undefined);
    });
  };
  const poured = view.marks.some((each) => each.mark === "bloom" || each.mark === "pour");
  const pour = (ago: number) => void mark(poured ? "pour" : "bloom", ago, weightOf(grams));

  return (
    <Page
      title={brewTitle(view)}
      above={paths.bench}
      aside={setupLine(view)}
      action={
        <>
          <Problem refusal={doing.refusal} />
          <HoldButton tall onHeld={running ? pour : (ago) => void mark("start", ago)} busy={doing.busy} hint={bench.holdHint}>
            {!running ? bench.holdStart : poured ? bench.markPour : bench.markBloom}
          </HoldButton>
        </>
      }
    >
      <div class="brewclock" role="timer" aria-label={bench.clock}>
        {formatClock(elapsed)}
      </div>
      {clock.disputed && <Disputed view={view} clock={clock} />}
      {running && <Hands view={view} grams={grams} onGrams={setGrams} onMark={(what, ago) => void mark(what, ago)} doing={doing} />}
      <p class="small soft">{bench.screenText}</p>
      <Discard view={view} />
    </Page>
  );
}

interface HandsProps {
  view: BrewView;
  grams: number | undefined;
  onGrams(grams: number | undefined): void;
  onMark(what: Mark, ago: number): void;
  doing: Doing;
}

/** What hands do besides pouring, and what they did so far. */
function Hands({ view, grams, onGrams, onMark, doing }: HandsProps) {
  const last = view.marks.at(-1);
  const undo = () => last && void doing.run(() => takeBack(view, bench.takenBack(words.mark[last.mark])));
  return (
    <>
      <WeightField label={bench.weight} hint={bench.weightHint} range={ranges.grams} value={grams} onValue={onGrams} wet />
      <div class="brewclock-extras">
        {extras[view.setup.method].map((each) => (
          <HoldButton key={each} plain onHeld={(ago) => onMark(each, ago)} busy={doing.busy}>
            {words.mark[each]}
          </HoldButton>
        ))}
        <HoldButton plain onHeld={(ago) => onMark("end", ago)} busy={doing.busy}>
          {view.setup.method === "drip" ? bench.holdEnd : bench.holdEndPress}
        </HoldButton>
      </div>
      <Marks view={view} />
      <p class="small taken" role="status">
        {takenBack(view)}
      </p>
      {last && last.mark !== "start" && (
        <Button wet onPress={undo} busy={doing.busy}>
          {bench.undo(words.mark[last.mark], formatClock(last.at * 1000))}
        </Button>
      )}
    </>
  );
}

const weightOf = (grams: number | undefined) => (grams === undefined || Number.isNaN(grams) ? 0 : grams);

export function Discard({ view }: { view: BrewView }) {
  const discard = async () => {
    await command("brew.discard", { book: view.book, brew: view.brew });
    go(paths.bench, "replace");
  };
  return <Sure kind="quiet" label={bench.discard} question={bench.discardSure} onYes={discard} />;
}

export function Marks({ view }: { view: BrewView }) {
  if (view.marks.length === 0) return null;
  return (
    <table class="marks">
      <caption class="unseen">{bench.marks}</caption>
      <thead>
        <tr>
          <th scope="col">{bench.table.time}</th>
          <th scope="col">{bench.table.what}</th>
          <th scope="col">{bench.table.weight}</th>
        </tr>
      </thead>
      <tbody>
        {view.marks.map((each, i) => (
          <tr key={i}>
            <td>{formatClock(each.at * 1000)}</td>
            <td>{words.mark[each.mark]}</td>
            <td>{each.grams > 0 ? formatWeight(each.grams) : ""}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
