// A water: read from a label, or from a test of hardness and alkalinity. What the numbers come to stands below while they are
// being typed.

import { useState } from "preact/hooks";
import type { HardnessUnit, Water, WaterSource, WaterView } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import type { Params } from "../model/router.ts";
import { back } from "../model/router.ts";
import { formatNumber, type Range } from "../model/numbers.ts";
import { factorOf, useAnswer } from "../model/water.ts";
import { Button } from "../parts/button/button.tsx";
import { Choice, NumberField, Pick, TextField } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { Nothing, Shown } from "../parts/shown/shown.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import { words } from "../words.ts";
import { Put } from "./waterput.tsx";
import { WaterReads } from "./waterreads.tsx";

const { water } = words;

export const noWater: Water = {
  id: "", name: "", source: "label", calcium: 0, magnesium: 0, sodium: 0, potassium: 0, bicarbonate: 0, chloride: 0, sulphate: 0,
  hardness: 0, alkalinity: 0, note: "",
};

/** What a label states; the core has the last word. */
const ion: Range = { min: 0, max: 10_000, usual: [0, 1000], unit: water.mgPerLitre };

const usualIons = ["calcium", "magnesium", "bicarbonate"] as const;
const moreIons = ["sodium", "potassium", "chloride", "sulphate"] as const;
type Ion = (typeof usualIons)[number] | (typeof moreIons)[number];

export function WaterItem({ params }: { params: Params }) {
  const seen = useView("water");
  return (
    <Shown seen={seen} title={water.newTitle} above={paths.items("water")}>
      {(view) => {
        if (params.id === "new") return <Form key="new" view={view} first={noWater} />;
        const item = view.waters.find(({ water: each }) => each.id === params.id);
        return item ? <Form key={params.id} view={view} first={item.water} away={item.kept.away} /> : <Nothing text={water.gone} />;
      }}
    </Shown>
  );
}

function Form({ view, first, away }: { view: WaterView; first: Water; away?: boolean }) {
  const [typed, setTyped] = useState(first);
  const [unit, setUnit] = useState<HardnessUnit>(view.unit);
  const doing = useDoing();
  const set = (change: Partial<Water>) => {
    setTyped({ ...typed, ...change });
    doing.clear();
  };
  const wrong = Object.values(typed).some(Number.isNaN);
  const reading = useAnswer(wrong ? undefined : { ...typed, name: "", note: "" }, (asked) => command("water.read", asked));
  const save = () =>
    doing.run(async () => {
      await command("water.save", typed);
      back(paths.items("water"));
    });
  return (
    <Page
      title={first.id ? first.name : water.newTitle}
      above={paths.items("water")}
      {...(away && { aside: water.away })}
      action={
        <>
          <Problem refusal={doing.refusal?.field === "name" ? undefined : doing.refusal} />
          <Button kind="primary" busy={doing.busy} disabled={wrong} onPress={() => void save()}>
            {words.common.save}
          </Button>
        </>
      }
    >
      <TextField label={water.name} hint={water.nameHint} value={typed.name} maxLength={60} onValue={(name) => set({ name })} error={doing.at("name")} />
      <Pick
        label={water.source}
        hint={water.sourceHint}
        value={typed.source}
        onValue={(source) => set({ source: source as WaterSource })}
        options={sources(first.source).map((value) => ({ value, label: words.waterSource[value] }))}
      />
      {typed.source === "test" ? (
        <TestFields view={view} typed={typed} set={set} unit={unit} setUnit={setUnit} at={doing.at} />
      ) : (
        <LabelFields typed={typed} first={first} set={set} at={doing.at} />
      )}
      <WaterReads view={view} reading={reading} unit={unit} />
      <TextField label={water.note} value={typed.note} rows={2} onValue={(note) => set({ note })} error={doing.at("note")} />
      {first.id && <Put what="water" id={first.id} away={away ?? false} />}
    </Page>
  );
}

/** Nobody types a mixed water; one that was mixed stays it. */
const sources = (first: WaterSource): WaterSource[] => (first === "mixed" ? ["mixed", "label", "test"] : ["label", "test"]);

interface FieldsProps {
  typed: Water;
  set(change: Partial<Water>): void;
  at(field: string): string | undefined;
}

function LabelFields({ typed, first, set, at }: FieldsProps & { first: Water }) {
  const field = (name: Ion) => (
    <NumberField key={name} label={water[name]} range={ion} value={typed[name] || undefined} onValue={(value) => set({ [name]: value ?? 0 })} error={at(name)} />
  );
  return (
    <section class="stack close">
      <h2>{water.ions}</h2>
      <p class="small soft">{water.ionsHint}</p>
      <div class="fields">{usualIons.map(field)}</div>
      <details class="fold" open={moreIons.some((name) => first[name] > 0)}>
        <summary>{water.more}</summary>
        <div class="fields">{moreIons.map(field)}</div>
      </details>
    </section>
  );
}

function TestFields({ view, typed, set, unit, setUnit, at }: FieldsProps & { view: WaterView; unit: HardnessUnit; setUnit(unit: HardnessUnit): void }) {
  const factor = factorOf(view.units, unit);
  const range: Range = { min: 0, max: Math.round(2000 / factor), unit };
  const field = (name: "hardness" | "alkalinity", hint: string) => (
    <NumberField
      key={unit}
      label={water[name]}
      hint={hint}
      range={range}
      value={typed[name] ? round(typed[name] / factor) : undefined}
      onValue={(value) => set({ [name]: (value ?? 0) * factor })}
      error={at(name)}
    />
  );
  return (
    <>
      <Choice
        label={water.unit}
        value={unit}
        onValue={(value) => setUnit(value as HardnessUnit)}
        options={view.units.map((each) => ({ value: each.unit, label: words.hardnessUnit[each.unit] }))}
      />
      <div class="fields">
        {field("hardness", water.hardnessHint)}
        {field("alkalinity", water.alkalinityHint)}
      </div>
      <p class="small soft">{unit === "mg/L" ? "" : `1 ${unit} = ${formatNumber(factor)} ${water.asCaCO3}`}</p>
    </>
  );
}

const round = (value: number) => Math.round(value * 1e4) / 1e4;
