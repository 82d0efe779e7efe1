// A water: read from a label, or from a test of hardness and alkalinity. What the numbers come to stands below while they are
// being typed.

import { useState } from "preact/hooks";
import type { HardnessUnit, Water, WaterItem, WaterQuantity, WaterSource, WaterView } from "../gen/types.ts";
import { command } from "../model/core.ts";
import type { Params } from "../model/router.ts";
import { formatNumber, type Range } from "../model/numbers.ts";
import { factorOf, useAnswer } from "../model/water.ts";
import { Choice, NumberField, Pick } from "../parts/field/field.tsx";
import * as words from "../words.ts";
import { water } from "../words.ts";
import { emptied, ItemForm, OfWaters, useTyping } from "./itemform.tsx";
import { WaterReads } from "./waterreads.tsx";

const fresh: Water = {
  id: "", name: water.nameFirst, source: "label", calcium: 0, magnesium: 0, sodium: 0, potassium: 0, bicarbonate: 0, chloride: 0, sulphate: 0,
  hardness: 0, alkalinity: 0, note: "",
};

/** What a label states; the core has the last word. */
const ion: Range = { min: 0, max: 10_000, usual: [0, 1000], unit: water.mgPerLitre };

const usualIons = ["calcium", "magnesium", "bicarbonate"] as const;
const moreIons = ["sodium", "potassium", "chloride", "sulphate"] as const;
const numbers = [...usualIons, ...moreIons, "hardness", "alkalinity"] as const;
type Ion = (typeof usualIons)[number] | (typeof moreIons)[number];

export function WaterOf({ params }: { params: Params }) {
  return (
    <OfWaters what="water" params={params} title={water.newTitle} find={(view, id) => view.waters.find((each) => each.water.id === id)}>
      {(item, view) => <Form key={params.id} view={view} item={item} />}
    </OfWaters>
  );
}

function Form({ view, item }: { view: WaterView; item: WaterItem | undefined }) {
  const first = item?.water ?? fresh;
  const typing = useTyping(first);
  const { typed, set, doing } = typing;
  const [unit, setUnit] = useState<HardnessUnit>(view.unit);
  const wrong = Object.values(typed).some(Number.isNaN);
  const reading = useAnswer(wrong ? undefined : { ...typed, name: "", note: "" }, (asked) => command("water.read", asked));
  return (
    <ItemForm {...typing} what="water" title={water.newTitle} nameHint={water.nameHint} kept={item?.kept} save={(each) => command("water.save", each)}>
      <Pick
        label={water.source}
        hint={water.sourceHint}
        value={typed.source}
        onValue={(source) => set({ source: source as WaterSource, ...emptied(typed, numbers) })}
        options={sources(first.source).map((value) => ({ value, label: words.waterSource[value] }))}
      />
      {typed.source === "test" ? (
        <TestFields view={view} typed={typed} set={set} unit={unit} setUnit={(next) => (set(emptied(typed, numbers)), setUnit(next))} at={doing.at} />
      ) : (
        <LabelFields key={typed.source} typed={typed} first={first} set={set} at={doing.at} />
      )}
      <WaterReads view={view} reading={reading} unit={unit} />
    </ItemForm>
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
  const factor = (name: WaterQuantity) => factorOf(view.units, unit, name);
  const field = (name: "hardness" | "alkalinity", hint: string) => (
    <NumberField
      key={unit}
      label={water[name]}
      hint={hint}
      range={{ min: 0, max: Math.round(2000 / factor(name)), unit }}
      value={typed[name] ? round(typed[name] / factor(name)) : undefined}
      onValue={(value) => set({ [name]: (value ?? 0) * factor(name) })}
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
      <p class="small soft">{unit === "mg/L" ? "" : unit === "mmol/L" ? water.millimoles(formatNumber(factor("hardness")), formatNumber(factor("alkalinity"))) : `1 ${unit} = ${formatNumber(factor("hardness"))} ${water.asCaCO3}`}</p>
    </>
  );
}

const round = (value: number) => Math.round(value * 100) / 100;
