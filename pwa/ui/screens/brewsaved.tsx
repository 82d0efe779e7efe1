// A saved brew, to read, to correct, to go on from.

import { useState } from "preact/hooks";
import type { BrewView } from "../gen/types.ts";
import { useMinute } from "../model/clock.ts";
import { command } from "../model/core.ts";
import { formatNumber } from "../model/numbers.ts";
import { formatClock, formatMoment } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { Page } from "../parts/page/page.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { SyncMark } from "../parts/sync/sync.tsx";
import { paths } from "../paths.ts";
import { words } from "../words.ts";
import { brewTitle, setupLine } from "./brew.tsx";
import { Discard, Marks } from "./brewclock.tsx";
import { SetupFields } from "./brewform.tsx";
import { BrewOutcomeForm } from "./brewoutcome.tsx";
import { OnWith, SittingLine } from "./sittingline.tsx";
import { shareState } from "../model/share.ts";

const { bench } = words;

export function BrewSaved({ view }: { view: BrewView }) {
  const [editing, setEditing] = useState<"outcome" | "setup">();
  const now = useMinute();
  const done = () => setEditing(undefined);
  if (editing === "outcome") return <BrewOutcomeForm view={view} onEdited={done} />;
  if (editing === "setup") return <EditSetup view={view} onEdited={done} />;
  const { setup, outcome, sample } = view;
  const fact = (label: string, value: string) =>
    value && (
      <>
        <dt>{label}</dt>
        <dd>{value}</dd>
      </>
    );
  return (
    <Page
      title={brewTitle(view)}
      above={paths.bench}
      aside={[setupLine(view), view.began ? formatMoment(view.began, now) : ""].filter(Boolean).join(" · ")}
      action={
        sample ? (
          <OnWith club={sample.club} sample={sample.sample} from="brew" />
        ) : (
          <Button kind="primary" href={paths.brewNew}>
            {bench.again}
          </Button>
        )
      }
    >
      {sample && <SittingLine club={sample.club} sample={sample.sample} at="brew" />}
      <p>
        <SyncMark {...shareState(view.share)} />
        {!view.counts && <span class="small soft"> · {bench.notCounted}</span>}
      </p>
      {outcome.notes && <p class="brew-notes">{outcome.notes}</p>}
      <dl class="facts">
        {fact(bench.drawdown, view.drawdown > 0 ? formatClock(view.drawdown * 1000) : "")}
        {fact(bench.beverage, outcome.beverage > 0 ? `${formatNumber(outcome.beverage, 1)} g` : "")}
        {fact(bench.tds, outcome.tds > 0 ? `${formatNumber(outcome.tds)} %` : "")}
        {view.yield && fact(bench.yield, bench.yieldRange(formatNumber(view.yield.value, 1), formatNumber(view.yield.low, 1), formatNumber(view.yield.high, 1)))}
        {fact(bench.brewer, setup.brewer)}
        {fact(bench.grinder, setup.grinder)}
        {fact(bench.filter, setup.filter)}
      </dl>
      {view.yield && <p class="small soft">{bench.yieldWhy}</p>}
      <Marks view={view} />
      <Button href={paths.cup(view.book, view.brew)}>{words.sitting.notices}</Button>
      <div class="pair">
        <Button onPress={() => setEditing("outcome")}>{bench.editOutcome}</Button>
        <Button onPress={() => setEditing("setup")}>{bench.editSetup}</Button>
      </div>
      <Discard view={view} />
    </Page>
  );
}

function EditSetup({ view, onEdited }: { view: BrewView; onEdited(): void }) {
  const [setup, setSetup] = useState(view.setup);
  const [sure, setSure] = useState<string[]>([]);
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
          setSetup({ ...setup, ...change });
          setSure([]);
          doing.clear();
        }}
        own={!view.sample}
        at={doing.at}
      />
    </Page>
  );
}
