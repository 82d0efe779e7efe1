// What came of a brew: corrected pours, drawdown, the cup's weight, TDS, notes; and after an absence, what happened.

import { useState } from "preact/hooks";
import type { Asked, BrewOutcome, BrewView, Pour } from "../gen/types.ts";
import { command } from "../model/core.ts";
import { Button } from "../parts/button/button.tsx";
import { DurationField, NumberField, Pick, TextField } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import { words } from "../words.ts";
import { brewTitle, setupLine } from "./brew.tsx";
import { Discard } from "./brewclock.tsx";
import { ranges } from "./brewform.tsx";

const { bench } = words;

interface Props {
  view: BrewView;
  /** Corrects a saved brew instead of saving a running one. */
  onEdited?: () => void;
}

const shown = (value: number) => (value === 0 ? undefined : value);

export function BrewOutcomeForm({ view, onEdited }: Props) {
  const [outcome, setOutcome] = useState<BrewOutcome>(() => ({ ...view.outcome, pours: view.pours, drawdown: view.drawdown }));
  const [sure, setSure] = useState<string[]>([]);
  const doing = useDoing();
  const set = (change: Partial<BrewOutcome>) => {
    setOutcome({ ...outcome, ...change });
    setSure([]);
    doing.clear();
  };
  const id = { book: view.book, brew: view.brew };
  const save = async (confirmed: string[] = sure) => {
    setSure(confirmed);
    const kept = { ...outcome, pours: outcome.pours.filter((pour) => !Number.isNaN(pour.at) && !Number.isNaN(pour.grams)) };
    const good = await doing.run(() =>
      onEdited ? command("brew.edit", { ...id, outcome: kept, sure: confirmed }) : command("brew.save", { ...id, outcome: kept, sure: confirmed }),
    );
    if (good) onEdited?.();
  };
  const wrong = [outcome.drawdown, outcome.beverage, outcome.tds].some(Number.isNaN);
  return (
    <Page
      title={brewTitle(view)}
      above={paths.bench}
      aside={setupLine(view)}
      action={
        <>
          <Problem refusal={doing.refusal} onSure={(field) => void save([...sure, field])} />
          <Button kind="primary" busy={doing.busy} disabled={wrong} onPress={() => void save()}>
            {bench.save}
          </Button>
        </>
      }
    >
      <h2 class="title">{bench.outcome}</h2>
      {view.absent && (
        <Pick
          label={bench.absent}
          hint={bench.absentKept}
          value={outcome.asked}
          onValue={(value) => set({ asked: value as Asked })}
          options={(["planned", "roughly", "unknown"] as const).map((value) => ({ value, label: words.asked[value] }))}
          error={doing.at("asked")}
        />
      )}
      <DurationField label={bench.drawdown} hint={bench.drawdownHint} value={shown(outcome.drawdown)} onValue={(value) => set({ drawdown: value ?? 0 })} error={doing.at("drawdown")} wet />
      <div class="fields">
        <NumberField label={bench.beverage} range={ranges.beverage} value={shown(outcome.beverage)} onValue={(value) => set({ beverage: value ?? 0 })} error={doing.at("beverage")} wet />
        <NumberField label={bench.tds} hint={bench.tdsHint} range={ranges.tds} value={shown(outcome.tds)} onValue={(value) => set({ tds: value ?? 0 })} error={doing.at("tds")} wet />
      </div>
      <TextField label={bench.notes} value={outcome.notes} rows={4} maxLength={4000} onValue={(notes) => set({ notes })} error={doing.at("notes")} />
      <Pours pours={outcome.pours} onPours={(pours) => set({ pours })} />
      {!onEdited && <Discard view={view} />}
    </Page>
  );
}

function Pours({ pours, onPours }: { pours: Pour[]; onPours(pours: Pour[]): void }) {
  const change = (at: number, part: Partial<Pour>) => onPours(pours.map((pour, i) => (i === at ? { ...pour, ...part } : pour)));
  return (
    <section class="stack close">
      <h2>{bench.pours}</h2>
      {pours.map((pour, i) => (
        <div class="pour-row" key={i}>
          <DurationField label={bench.pourAt(i + 1)} value={pour.at} onValue={(at) => change(i, { at: at ?? 0 })} />
          <NumberField label={bench.pourTo(i + 1)} range={ranges.grams} value={shown(pour.grams)} onValue={(grams) => change(i, { grams: grams ?? 0 })} />
          <Button onPress={() => onPours(pours.filter((_, each) => each !== i))}>
            {words.common.remove}
            <span class="unseen"> {bench.pourAt(i + 1)}</span>
          </Button>
        </div>
      ))}
      <Button onPress={() => onPours([...pours, { at: 0, grams: 0 }])}>{bench.addPour}</Button>
    </section>
  );
}
