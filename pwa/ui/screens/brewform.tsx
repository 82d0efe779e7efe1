// The start of a brew: what it is made with. Nothing must be filled in; what a kitchen cannot measure stays empty.

import { useState } from "preact/hooks";
import type { BrewSetup, Method, SampleView } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import { formatCode } from "../model/going.ts";
import { formatNumber, type Range } from "../model/numbers.ts";
import { askToKeep } from "../model/browser.ts";
import { go, type Params } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { declaredWords, needsCare } from "../parts/declared/declared.ts";
import { Choice, NumberField, TextField } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Care, Problem, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import { words } from "../words.ts";
import { Caution } from "./caution.tsx";
import { SittingLine } from "./sittingline.tsx";

const { bench, units } = words;

/** What a field takes at all, and what is usual; the core has the last word. */
export const ranges = {
  dose: { min: 0.1, max: 500, usual: [3, 100], unit: units.gram },
  water: { min: 1, max: 10_000, usual: [30, 2000], unit: units.gram },
  ratio: { min: 1, max: 100, usual: [8, 25] },
  kettle: { min: 1, max: 100, usual: [60, 100], unit: units.celsius },
  grams: { min: 0, max: 10_000, unit: units.gram },
  beverage: { min: 1, max: 10_000, usual: [20, 2000], unit: units.gram },
  tds: { min: 0.01, max: 30, usual: [0.8, 2.5], unit: units.percent },
} satisfies { [name: string]: Range };

export function BrewForm({ params }: { params: Params }) {
  const { club, sample } = params;
  const seen = useView("bench");
  const title = bench.newTitle;
  return (
    <Shown seen={seen} title={title} above={paths.bench}>
      {(view) => {
        // before the first brew there is no last method
        const last: BrewSetup = { ...view.last, method: view.last.method || "drip", coffee: club ? "" : view.last.coffee };
        return club && sample ? <OfSample club={club} sample={sample} last={last} /> : <Form last={last} />;
      }}
    </Shown>
  );
}

function OfSample({ club, sample, last }: { club: string; sample: string; last: BrewSetup }) {
  const seen = useView("sample", { club, sample });
  return (
    <Shown seen={seen} title={bench.newTitle} above={paths.sample(club, sample)}>
      {(view) => <Form last={last} sample={view} />}
    </Shown>
  );
}

function Form({ last, sample }: { last: BrewSetup; sample?: SampleView }) {
  const [setup, setSetup] = useState(last);
  const [sure, setSure] = useState<string[]>([]);
  const doing = useDoing();
  const set = (change: Partial<BrewSetup>) => {
    setSetup({ ...setup, ...change });
    setSure([]);
    doing.clear();
  };
  const begin = async (run: boolean, confirmed: string[] = sure) => {
    setSure(confirmed);
    await doing.run(async () => {
      const args = { club: sample?.club ?? "", sample: sample?.sample ?? "", setup, run, sure: confirmed };
      const { book, brew } = await command("brew.start", args);
      go(paths.brew(book, brew), "replace");
      void askToKeep();
    });
  };
  const wrong = Object.values(setup).some(Number.isNaN);
  const above = sample ? paths.sample(sample.club, sample.sample) : paths.bench;
  return (
    <Page
      title={sample ? bench.newOf(formatCode(sample.code)) : bench.newTitle}
      above={above}
      aside={sample ? bench.left(formatNumber(sample.left, 1)) : bench.noMeasure}
      action={
        <>
          <Problem refusal={doing.refusal} onSure={(field) => void begin(false, [...sure, field])} />
          <Button kind="primary" busy={doing.busy} disabled={wrong} onPress={() => void begin(false)}>
            {bench.toClock}
          </Button>
        </>
      }
    >
      {sample && <SittingLine club={sample.club} sample={sample.sample} at="brew" />}
      <Caution caution="hot-water" title={bench.careTitle} text={bench.careText} />
      {sample && needsCare(sample.declared, sample.declaredReadable) && (
        <Care title={bench.allergensFirst}>
          <p>{declaredWords(sample.declared, sample.declaredReadable)}</p>
          <p class="small">{bench.grinderShared}</p>
        </Care>
      )}
      <SetupFields setup={setup} set={set} own={!sample} at={doing.at} />
    </Page>
  );
}

interface FieldsProps {
  setup: BrewSetup;
  set(change: Partial<BrewSetup>): void;
  own: boolean;
  at(field: string): string | undefined;
}

/** Numbers that were not measured are 0 for the core, and empty here. */
const shown = (value: number) => (value === 0 ? undefined : value);

export function SetupFields({ setup, set, own, at }: FieldsProps) {
  const number = (name: "dose" | "water" | "ratio" | "kettle", label: string, hint?: string) => (
    <NumberField
      label={label}
      {...(hint && { hint })}
      range={ranges[name]}
      value={shown(setup[name])}
      onValue={(value) => set({ [name]: value ?? 0 })}
      error={at(name)}
      wet
    />
  );
  const text = (name: "coffee" | "brewer" | "grinder" | "grind" | "filter", label: string, hint?: string) => (
    <TextField label={label} {...(hint && { hint })} wet={name === "grind"} value={setup[name]} maxLength={120} onValue={(value) => set({ [name]: value })} error={at(name)} />
  );
  const ratio = setup.dose > 0 && setup.water > 0 ? setup.water / setup.dose : undefined;
  return (
    <>
      {own && text("coffee", bench.coffee, bench.coffeeHint)}
      <div class="fields">
        {number("dose", bench.dose)}
        {number("water", bench.water)}
      </div>
      {ratio === undefined ? number("ratio", bench.ratioField, bench.ratioHint) : <p class="soft">{bench.ratio(formatNumber(ratio, 1))}</p>}
      <div class="fields">
        {number("kettle", bench.kettle)}
        {text("grind", bench.grind, bench.grindHint)}
      </div>
      <Choice
        label={bench.method}
        value={setup.method}
        onValue={(value) => set({ method: value as Method })}
        options={Object.entries(words.method).map(([value, label]) => ({ value, label }))}
        error={at("method")}
      />
      {text("brewer", bench.brewer, bench.brewerHint)}
      {text("grinder", bench.grinder, bench.grinderHint)}
      {text("filter", bench.filter)}
    </>
  );
}
