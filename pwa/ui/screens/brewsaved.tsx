// A saved brew: what came of it, how it went against the plan, what changed against the brew before, and where to go on.

import { useState } from "preact/hooks";
import type { BrewParams, BrewView } from "../gen/types.ts";
import { useMinute } from "../model/clock.ts";
import { command, useView } from "../model/core.ts";
import { guides } from "../model/guide.ts";
import { formatFixed, formatNumber } from "../model/numbers.ts";
import { noteQuery, place as here } from "../model/router.ts";
import { shareState } from "../model/share.ts";
import { formatClock, formatMoment } from "../model/times.ts";
import { formatTemperature, formatWeight } from "../model/units.ts";
import { Button } from "../parts/button/button.tsx";
import { Page } from "../parts/page/page.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { SyncMark } from "../parts/sync/sync.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { bench } from "../words.ts";
import { brewTitle, setupLine } from "./brew.tsx";
import { balanceWords } from "./brewbalance.tsx";
import { Discard, Marks } from "./brewclock.tsx";
import { Changed } from "./brewformplan.tsx";
import { SetupFields } from "./brewsetup.tsx";
import { BrewOutcomeForm } from "./brewoutcome.tsx";
import { OnWith, SittingLine } from "./sittingline.tsx";
import { Timeline, TimelineTable } from "./brewtimeline.tsx";

export function BrewSaved({ view }: { view: BrewView }) {
  const [editing, setEditing] = useState<"outcome" | "setup" | undefined>(() => (here.value.query === "note" ? "outcome" : undefined));
  const now = useMinute();
  const done = () => {
    setEditing(undefined);
    noteQuery("");
  };
  if (editing === "outcome") return <BrewOutcomeForm view={view} onEdited={done} />;
  if (editing === "setup") return <EditSetup view={view} onEdited={done} />;
  const { outcome, sample } = view;
  return (
    <Page
      title={brewTitle(view)}
      above={paths.bench}
      aside={[setupLine(view), view.began ? formatMoment(view.began, now) : ""].filter(Boolean).join(" · ")}
      action={
        <div class="no-print">
          {sample ? (
            <OnWith club={sample.club} sample={sample.sample} from="brew" />
          ) : (
            <Button kind="primary" href={paths.brewAgain(view.book, view.brew)}>
              {bench.again}
            </Button>
          )}
        </div>
      }
    >
      {sample && <SittingLine club={sample.club} sample={sample.sample} at="brew" />}
      <p>
        <SyncMark {...shareState(view.share)} />
        {view.abandoned && <span class="small soft"> · {bench.abandoned}</span>}
      </p>
      {outcome.notes && (
        <p class="brew-notes" dir="auto">
          {outcome.notes}
        </p>
      )}
      <Facts view={view} />
      <Timeline view={view} />
      <details class="fold">
        <summary>{bench.stepByStep}</summary>
        {guides(view.plan) ? <TimelineTable view={view} plan={view.plan} /> : <Marks view={view} />}
      </details>
      <Button href={paths.cup(view.book, view.brew)}>{words.sitting.notices}</Button>
      {view.table && <Button href={paths.bowls(view.table)}>{words.bowls.whole}</Button>}
      {view.parent && <FromParent view={view} parent={view.parent} />}
      <Onward view={view} />
      <Counting view={view} />
      <div class="pair no-print">
        <Button onPress={() => setEditing("outcome")}>{bench.editOutcome}</Button>
        <Button onPress={() => setEditing("setup")}>{bench.editSetup}</Button>
      </div>
      <div class="no-print">
        <Discard view={view} />
      </div>
    </Page>
  );
}

/** So many letters want a line of their own on paper, where facts stand two in a row. */
const LONG = 60;

function Facts({ view }: { view: BrewView }) {
  const { setup, outcome, place } = view;
  const fact = (label: string, value: string) =>
    value && (
      <>
        <dt>{label}</dt>
        <dd class={value.length > LONG ? "long" : ""}>{value}</dd>
      </>
    );
  return (
    <>
      <dl class="facts">
        {fact(bench.drawdown, view.drawdown > 0 ? formatClock(view.drawdown * 1000) : "")}
        {fact(bench.beverage, outcome.beverage > 0 ? formatWeight(outcome.beverage) : "")}
        {fact(bench.tds, view.strength ? bench.tdsRange(formatNumber(outcome.tds), formatFixed(view.strength.low, 2), formatFixed(view.strength.high, 2)) : "")}
        {view.yield && fact(bench.yield, bench.yieldRange(formatFixed(view.yield.value, 1), formatFixed(view.yield.low, 1), formatFixed(view.yield.high, 1)))}
        {place && fact(bench.chartRange(words.tradeRange[place.range.id]), bench.onChart(words.side[place.strength], place.strengthSure, words.side[place.extraction], place.sure))}
        {fact(bench.balance, balanceWords(outcome.balance))}
        {fact(bench.bypass, outcome.bypass > 0 ? formatWeight(outcome.bypass) : "")}
        {fact(bench.slurry, outcome.slurry > 0 ? formatTemperature(outcome.slurry, 1) : "")}
        {fact(bench.recipe, setup.recipe)}
        {fact(bench.brewer, setup.brewer)}
        {fact(bench.grinder, setup.grinder)}
        {fact(bench.scoops, setup.dose > 0 && setup.scoops > 0 ? formatNumber(setup.scoops) : "")}
        {fact(bench.sinceGrinding, setup.sinceGrinding > 0 ? `${formatNumber(setup.sinceGrinding)} min` : "")}
        {fact(bench.waterKind, setup.waterName)}
        {fact(bench.filter, setup.filter)}
      </dl>
      {view.strength && <p class="small soft">{bench.yieldWhy} {(view.used?.coffee?.moisture ?? 0) > 0 && bench.yieldDry}</p>}
    </>
  );
}

function FromParent({ view, parent }: { view: BrewView; parent: BrewParams }) {
  return (
    <section class="stack close">
      <h2>{bench.againstParent}</h2>
      {view.changes && <Changed changes={view.changes} />}
      <div class="pair no-print">
        <Button href={paths.compare(parent.book, parent.brew, view.book, view.brew)}>{bench.compareParent}</Button>
        <Button href={paths.brew(parent.book, parent.brew)}>{bench.toParent}</Button>
      </div>
    </section>
  );
}

/** Where one may go on from a brew. */
function Onward({ view }: { view: BrewView }) {
  const { book, brew } = view;
  return (
    <nav class="pair no-print" aria-label={bench.onward}>
      {view.sample && <Button href={paths.brewAgain(book, brew)}>{bench.again}</Button>}
      <Button href={paths.advice(book, brew)}>{bench.whatNext}</Button>
      <Button href={paths.trials(book, brew)}>{bench.trials}</Button>
      <Button href={paths.compareWith(book, brew)}>{words.log.compareWith}</Button>
      <Button onPress={() => print()}>{bench.print}</Button>
    </nav>
  );
}

/** Whether something is learned from it is its owner's word. */
function Counting({ view }: { view: BrewView }) {
  const doing = useDoing();
  const turn = () => void doing.run(() => command("brew.count", { book: view.book, brew: view.brew, counts: !view.counts }));
  return (
    <div class="stack close no-print">
      <p class="small soft">{view.counts ? bench.counts : bench.notCounted}</p>
      <Problem refusal={doing.refusal} />
      <Button busy={doing.busy} onPress={turn}>
        {view.counts ? bench.leaveOut : bench.putBack}
      </Button>
    </div>
  );
}

function EditSetup({ view, onEdited }: { view: BrewView; onEdited(): void }) {
  const [setup, setSetup] = useState(view.setup);
  const [sure, setSure] = useState<string[]>([]);
  const cupboard = useView("cupboard").value;
  const doing = useDoing();
  const save = async (confirmed: string[] = sure) => {
    setSure(confirmed);
    if (await doing.run(() => command("brew.edit", { book: view.book, brew: view.brew, setup, sure: confirmed }))) onEdited();
  };
  return (
    <Page
      title={brewTitle(view)}
      above={paths.bench}
      action={
        <>
          <Problem refusal={doing.refusal} onSure={(field) => void save([...sure, field])} />
          <Button kind="primary" busy={doing.busy} disabled={Object.values(setup).some(Number.isNaN)} onPress={() => void save()}>
            {words.common.save}
          </Button>
        </>
      }
    >
      <SetupFields
        setup={setup}
        set={(change) => {
          setSetup((now) => ({ ...now, ...change }));
          setSure([]);
          doing.clear();
        }}
        own={!view.sample}
        at={doing.at}
        cupboard={cupboard}
      />
    </Page>
  );
}
