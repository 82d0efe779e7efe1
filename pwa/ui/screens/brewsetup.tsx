// What a brew is made with: picked from the Cupboard, or typed as new in place. Nothing must be filled in.

import { useState } from "preact/hooks";
import { limits } from "../gen/limits.ts";
import type { BrewSetup, ClubWaterView, CupboardView, Geometry, Method, RecipeItem } from "../gen/types.ts";
import { formatNumber, type Range } from "../model/numbers.ts";
import { formatTemperature } from "../model/units.ts";
import { chooseBrewer, chooseRecipe, fitting, withDose } from "../model/setup.ts";
import { Choice, NumberField, TextField } from "../parts/field/field.tsx";
import { TemperatureField, WeightField } from "../parts/measure/measure.tsx";
import * as words from "../words.ts";
import { bench, units } from "../words.ts";
import { BrewWater } from "./brewwater.tsx";

/** What a field takes at all, and what is usual: as the core has it, which has the last word. */
export const ranges = {
  dose: { ...limits.dose, unit: units.gram },
  water: { ...limits.water, unit: units.gram },
  ratio: limits.ratio,
  kettle: { ...limits.kettle, unit: units.celsius },
  grams: { min: 0, max: limits.water.max, unit: units.gram },
  beverage: { ...limits.beverage, unit: units.gram },
  tds: { ...limits.tds, unit: units.percent },
  slurry: { ...limits.slurry, unit: units.celsius },
  bypass: { ...limits.bypass, unit: units.gram },
  scoops: { min: 0, max: 50, usual: [0, 12] },
  minutes: { min: 0, max: 100_000, usual: [0, 1440], unit: "min" },
} satisfies { [name: string]: Range };

/** Where water boils at so many °C, more than a degree above that is asked about. */
export function boilingAt(range: { min: number; max: number; usual: [number, number]; unit: string }, boiling: number): Range {
  return boiling > 0 ? { ...range, usual: [range.usual[0], Math.min(boiling + 1, range.max)] } : range;
}

interface FieldsProps {
  setup: BrewSetup;
  set(change: Partial<BrewSetup>): void;
  own: boolean;
  at(field: string): string | undefined;
  cupboard: CupboardView | undefined;
  /** The common water of the sample's club. */
  club?: ClubWaterView | undefined;
}

/** Numbers that were not measured are 0 for the core, and empty here. */
const shown = (value: number) => (value === 0 ? undefined : value);

/** What is typed is no more what was picked. */
const unpicked: { [name: string]: Partial<BrewSetup> } = { coffee: { coffeeID: "" }, brewer: { brewerID: "" }, grinder: { grinderID: "" } };

/** Stands for what is typed instead of picked. */
const TYPED = "";

export function SetupFields({ setup, set, own, at, cupboard, club }: FieldsProps) {
  const number = (name: "ratio" | "scoops", label: string, hint?: string) => (
    <NumberField
      label={label}
      {...(hint && { hint })}
      range={ranges[name]}
      value={shown(setup[name])}
      onValue={(value) => set({ [name]: value ?? 0 })}
      error={at(name)}
      wet={name !== "scoops"}
    />
  );
  const text = (name: "coffee" | "brewer" | "grinder" | "grind" | "filter", label: string, hint?: string) => (
    <TextField label={label} {...(hint && { hint })} wet={name === "grind"} value={setup[name]} maxLength={120} onValue={(value) => set({ [name]: value, ...unpicked[name] })} error={at(name)} />
  );
  const boiling = cupboard?.boiling ?? 0;
  const low = boiling > 0 && boiling < 99;
  const ratio = setup.dose > 0 && setup.water > 0 ? setup.water / setup.dose : undefined;
  const here = <T extends { kept: { away: boolean } }>(items: readonly T[] | undefined) => (items ?? []).filter(({ kept }) => !kept.away);
  const coffees = here(cupboard?.coffees).map(({ coffee }) => coffee);
  const brewers = here(cupboard?.brewers).map(({ brewer }) => brewer);
  const grinders = here(cupboard?.grinders).map(({ grinder }) => grinder);
  const waters = here(cupboard?.waters).map(({ water }) => water);
  return (
    <>
      {own && (
        <PickOrType label={bench.whichCoffee} items={coffees} value={setup.coffeeID} onPick={(coffee) => set({ coffeeID: coffee?.id ?? "", coffee: coffee?.name ?? "" })} error={at("coffeeID")}>
          {text("coffee", bench.coffee, bench.coffeeHint)}
        </PickOrType>
      )}
      <RecipePick setup={setup} set={set} cupboard={cupboard} error={at("recipeID")} />
      <div class="fields">
        <WeightField label={bench.dose} range={ranges.dose} value={shown(setup.dose)} onValue={(dose) => set(withDose(setup, dose ?? 0))} error={at("dose")} wet />
        <WeightField label={bench.water} range={ranges.water} value={shown(setup.water)} onValue={(water) => set({ water: water ?? 0 })} error={at("water")} wet />
      </div>
      {ratio === undefined ? number("ratio", bench.ratioField, bench.ratioHint) : <p class="soft">{bench.ratio(formatNumber(ratio, 1))}</p>}
      <div class="fields">
        <TemperatureField
          label={bench.kettle}
          {...(low && { hint: bench.boils(formatTemperature(boiling)) })}
          range={boilingAt(ranges.kettle, boiling)}
          value={shown(setup.kettle)}
          onValue={(value) => set({ kettle: value ?? 0 })}
          error={at("kettle")}
          wet
        />
        {text("grind", bench.grind, bench.grindHint)}
      </div>
      <PickOrType label={bench.whichBrewer} items={brewers} value={setup.brewerID} onPick={(brewer) => set(chooseBrewer(setup, brewer))} error={at("brewerID")}>
        {text("brewer", bench.brewer, bench.brewerHint)}
        <Shape setup={setup} set={set} at={at} />
      </PickOrType>
      <PickOrType label={bench.whichGrinder} items={grinders} value={setup.grinderID} onPick={(grinder) => set({ grinderID: grinder?.id ?? "", grinder: grinder?.name ?? "" })} error={at("grinderID")}>
        {text("grinder", bench.grinder, bench.grinderHint)}
      </PickOrType>
      <BrewWater setup={setup} set={set} waters={waters} club={club} error={at("waterID")} />
      <details class="fold">
        <summary>{bench.moreSetup}</summary>
        <div class="stack">
          {text("filter", bench.filter)}
          {number("scoops", bench.scoops, bench.scoopsHint)}
          <NumberField
            label={bench.sinceGrinding}
            range={ranges.minutes}
            value={shown(setup.sinceGrinding)}
            onValue={(value) => set({ sinceGrinding: value ?? 0 })}
            error={at("sinceGrinding")}
          />
        </div>
      </details>
    </>
  );
}

interface Named {
  id: string;
  name: string;
}

interface PickProps<T extends Named> {
  label: string;
  items: readonly T[];
  value: string;
  onPick(item: T | undefined): void;
  error: string | undefined;
  /** The fields for something new. */
  children: preact.ComponentChildren;
}

/** One of the Cupboard's, or something new typed in place. An empty Cupboard offers only the second. */
function PickOrType<T extends Named>({ label, items, value, onPick, error, children }: PickProps<T>) {
  const known = items.some(({ id }) => id === value);
  const [typing, setTyping] = useState(false);
  if (items.length === 0) return <>{children}</>;
  return (
    <>
      <Choice
        label={label}
        value={known ? value : TYPED}
        onValue={(id) => {
          setTyping(id === TYPED);
          onPick(items.find((item) => item.id === id));
        }}
        options={[...items.map(({ id, name }) => ({ value: id, label: name })), { value: TYPED, label: bench.somethingElse }]}
        error={error}
      />
      {(!known || typing) && children}
    </>
  );
}

/** What a brewer is that nobody has written down yet. */
function Shape({ setup, set, at }: Pick<FieldsProps, "setup" | "set" | "at">) {
  const shapes = Object.entries(words.geometry).map(([value, label]) => ({ value, label }));
  return (
    <>
      <Choice
        label={bench.shape}
        value={setup.geometry}
        onValue={(geometry) => set({ geometry: geometry as Geometry | "", ...(geometry && { method: fitting(geometry as Geometry) }) })}
        options={[{ value: "", label: bench.notSaid }, ...shapes]}
        error={at("geometry")}
      />
      {(setup.geometry === "" || setup.geometry === "other") && (
        <Choice
          label={bench.method}
          value={setup.method}
          onValue={(method) => set({ method: method as Method })}
          options={Object.entries(words.method).map(([value, label]) => ({ value, label }))}
          error={at("method")}
        />
      )}
    </>
  );
}

function RecipePick({ setup, set, cupboard, error }: { setup: BrewSetup; set: FieldsProps["set"]; cupboard: CupboardView | undefined; error: string | undefined }) {
  const all = (cupboard?.recipes ?? []).filter(({ kept, recipe }) => !kept.away || recipe.id === setup.recipeID);
  if (all.length === 0) return null;
  const fits = ({ recipe }: RecipeItem) => setup.geometry === "" || recipe.geometry === setup.geometry;
  const sorted = [...all.filter(fits), ...all.filter((item) => !fits(item))];
  const options = sorted.map(({ recipe, starting }) => ({ value: recipe.id, label: starting ? bench.startingPoint(recipe.title) : recipe.title }));
  return (
    <Choice
      label={bench.recipe}
      value={setup.recipeID}
      onValue={(id) => set(chooseRecipe(setup, all.find(({ recipe }) => recipe.id === id)?.recipe, cupboard?.boiling ?? 0))}
      options={[{ value: "", label: setup.recipeID === "" && setup.steps.length > 0 ? bench.recipeKept(setup.recipe) : bench.noRecipe }, ...options]}
      error={error}
    />
  );
}
