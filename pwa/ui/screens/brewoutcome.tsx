// What came of a brew: corrected pours, drawdown, the cup's weight, TDS, how it stood, notes; and after an absence, what
// happened. All of it may stay empty.

import { useEffect, useRef, useState } from "preact/hooks";
import type { Asked, BrewOutcome, BrewView, Pour } from "../gen/types.ts";
import { command } from "../model/core.ts";
import { keepDraft, recallDraft } from "../model/tabdraft.ts";
import { formatClock } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { DurationField, NumberField, Pick, TextField } from "../parts/field/field.tsx";
import { TemperatureField, WeightField } from "../parts/measure/measure.tsx";
import { Page } from "../parts/page/page.tsx";
import { Problem, useDoing, type Doing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { bench } from "../words.ts";
import { brewTitle, setupLine } from "./brew.tsx";
import { Balance } from "./brewbalance.tsx";
import { Discard } from "./brewclock.tsx";
import { boilingAt, ranges } from "./brewsetup.tsx";

interface Props {
  view: BrewView;
  /** Corrects a saved brew instead of saving a running one. */
  onEdited?: () => void;
}

const fieldOf = { beverage: WeightField, tds: NumberField, slurry: TemperatureField, bypass: WeightField };

const shown = (value: number) => (value === 0 ? undefined : value);

export function BrewOutcomeForm({ view, onEdited }: Props) {
  const key = `outcome ${view.brew}`;
  const [draft, setDraft] = useState<Partial<BrewOutcome>>(() => (onEdited ? undefined : recallDraft(key)) ?? {});
  const [first] = useState({ ...view.outcome, pours: view.pours, drawdown: view.drawdown });
  const outcome: BrewOutcome = { ...first, ...draft };
  const newest = useRef(draft);
  const [sure, setSure] = useState<string[]>([]);
  const doing = useDoing();
  const set = (change: Partial<BrewOutcome>) => {
    setDraft((newest.current = { ...newest.current, ...change }));
    if (!onEdited) keepDraft(key, newest.current); // at once: the next press may lead away
    setSure([]);
    doing.clear();
  };
  const id = { book: view.book, brew: view.brew };
  const save = async (confirmed: string[] = sure) => {
    setSure(confirmed);
    const good = await doing.run(() =>
      onEdited ? command("brew.edit", { ...id, outcome, sure: confirmed }) : command("brew.save", { ...id, outcome, sure: confirmed }),
    );
    if (!good) return;
    keepDraft(key, undefined);
    onEdited?.();
  };
  const aside = useRef(outcome.slurry > 0 || outcome.bypass > 0);
  aside.current ||= /^(slurry|bypass|pours)/.test(doing.refusal?.field ?? ""); // what is refused must be seen
  const wrong = [outcome.drawdown, outcome.beverage, outcome.tds, outcome.slurry, outcome.bypass, ...outcome.pours.flatMap(({ at, grams }) => [at, grams])].some(Number.isNaN);
  const number = (name: "beverage" | "tds" | "slurry" | "bypass", label: string, wet = false, Field = fieldOf[name]) => (
    <Field label={label} range={name === "slurry" ? boilingAt(ranges.slurry, view.boiling) : ranges[name]} value={shown(outcome[name])} onValue={(value) => set({ [name]: value ?? 0 })} error={doing.at(name) ?? (name === "tds" ? doing.at("extraction") : undefined)} wet={wet} />
  );
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
      {!onEdited && <UndoEnd view={view} />}
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
      <div class="stack close">
        <div class="fields">
          {number("beverage", bench.beverage, true)}
          {number("tds", bench.tds, true)}
        </div>
        <p class="field-hint">{bench.tdsHow}</p>
      </div>
      <Balance marks={outcome.balance} onMarks={(balance) => set({ balance })} />
      <TextField label={bench.notes} value={outcome.notes} rows={4} maxLength={4000} onValue={(notes) => set({ notes })} error={doing.at("notes")} />
      <details class="fold" open={aside.current}>
        <summary>{bench.moreOutcome}</summary>
        <div class="stack">
          <div class="fields">
            {number("slurry", bench.slurry)}
            {number("bypass", bench.bypass)}
          </div>
          <Pours pours={outcome.pours} onPours={(pours) => set({ pours })} at={doing.at} />
        </div>
      </details>
      {!onEdited && <Discard view={view} />}
    </Page>
  );
}

const UNDO_MS = 10_000;

/** The clock was stopped too early: for ten seconds it can go on. */
function UndoEnd({ view }: { view: BrewView }) {
  const doing = useDoing();
  const [open, setOpen] = useState(true);
  useEffect(() => {
    const timer = setTimeout(() => setOpen(false), UNDO_MS);
    return () => clearTimeout(timer);
  }, []);
  const end = view.marks.find(({ mark }) => mark === "end");
  if (!open || !end) return null;
  return (
    <>
      <Problem refusal={doing.refusal} />
      <Button wet busy={doing.busy} onPress={() => void doing.run(() => command("brew.unmark", { book: view.book, brew: view.brew }))}>
        {bench.undo(words.mark.end, formatClock(end.at * 1000))}
      </Button>
    </>
  );
}

function Pours({ pours, onPours, at }: { pours: Pour[]; onPours(pours: Pour[]): void; at: Doing["at"] }) {
  const change = (which: number, part: Partial<Pour>) => onPours(pours.map((pour, i) => (i === which ? { ...pour, ...part } : pour)));
  return (
    <section class="stack close">
      <h2>{bench.pours}</h2>
      {pours.map((pour, i) => (
        <div class="pour-row" key={i}>
          <DurationField label={bench.pourBegan(i + 1)} value={pour.at} onValue={(began) => change(i, { at: began ?? 0 })} />
          <WeightField label={bench.pourReached(i + 1)} range={ranges.grams} value={shown(pour.grams)} onValue={(grams) => change(i, { grams: grams ?? 0 })} error={at(`pours.${i}`)} />
          <Button onPress={() => onPours(pours.filter((_, each) => each !== i))}>
            {words.common.remove}
            <span class="unseen"> {bench.pourBegan(i + 1)}</span>
          </Button>
        </div>
      ))}
      <Button onPress={() => onPours([...pours, { at: 0, grams: 0 }])}>{bench.addPour}</Button>
    </section>
  );
}
