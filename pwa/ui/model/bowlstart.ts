// What can stand in the bowls of a table, and how they are set unless somebody says otherwise.

import type { BenchView, Bowl, BrewSetup, CupboardView, SampleChoice } from "../gen/types.ts";
import { declaredWords, needsCare } from "../parts/declared/declared.ts";
import * as words from "../words.ts";
import { bowls as say } from "../words.ts";
import { formatCode } from "./going.ts";
import { withUsualWater } from "./setup.ts";
import { formatWeight } from "./units.ts";

/** Something that can stand in a bowl. */
export interface Choosable {
  key: string;
  name: string;
  note: string;
  /** g there are; undefined when nobody knows. */
  left: number | undefined;
  bowl: Bowl;
  warn: string;
}

export function choosables(bench: BenchView, cupboard: CupboardView | undefined): Choosable[] {
  const nothing = { club: "", sample: "", coffee: "", coffeeID: "", dose: 0 };
  const samples = bench.samples.map((sample) => ({
    key: sample.sample,
    name: formatCode(sample.code),
    note: `${sample.title}, ${say.left(formatWeight(sample.left))}`,
    left: sample.left,
    bowl: { ...nothing, club: sample.club, sample: sample.sample },
    warn: needsCare(sample.declared) ? declaredWords(sample.declared) : "",
  }));
  const coffees = (cupboard?.coffees ?? []).filter((item) => !item.kept.away).map(({ coffee, left }) => ({
    key: coffee.id,
    name: coffee.name,
    note: coffee.grams > 0 ? say.left(formatWeight(left)) : "",
    left: coffee.grams > 0 ? left : undefined,
    bowl: { ...nothing, coffee: coffee.name, coffeeID: coffee.id },
    warn: coffee.declared.choice === "something" ? declaredWords(coffee.declared) : "",
  }));
  return [...samples, ...coffees];
}

/** Flights of which more than one sample could stand side by side. */
export function flights(samples: readonly SampleChoice[]): [title: string, samples: SampleChoice[]][] {
  const by = new Map<string, SampleChoice[]>();
  for (const sample of samples) by.set(sample.title, [...(by.get(sample.title) ?? []), sample]);
  return [...by].filter(([, list]) => list.length > 1).slice(0, 1);
}

export const ownBowl = (name: string): Choosable => ({
  key: `own ${name}`,
  name,
  note: "",
  left: undefined,
  bowl: { club: "", sample: "", coffee: name, coffeeID: "", dose: 0 },
  warn: "",
});

/** The starting recipe of a cupping bowl, with the home's own water and grinder. */
export function startOf(bench: BenchView, cupboard: CupboardView | undefined): BrewSetup {
  const recipe = cupboard?.recipes.find((each) => each.recipe.geometry === "cupping-bowl")?.recipe;
  const last = bench.last.method === "bowl" ? bench.last : undefined;
  const dose = last?.dose || recipe?.dose || 0;
  const ratio = last?.ratio || recipe?.ratio || 0;
  const kettle = last?.kettle || recipe?.kettle || 0;
  const setup: BrewSetup = {
    coffee: "", coffeeID: "", method: "bowl", geometry: "cupping-bowl", brewer: words.geometry["cupping-bowl"], brewerID: "", filter: "none",
    dose, ratio, water: last?.water || Math.round(dose * ratio),
    kettle: cupboard && cupboard.boiling > 0 ? Math.min(kettle, Math.floor(cupboard.boiling)) : kettle,
    grinder: bench.last.grinder, grinderID: bench.last.grinderID, grind: last?.grind ?? "",
    waterID: last?.waterID ?? "", waterName: last?.waterName ?? "",
    recipeID: recipe?.id ?? "", recipe: recipe?.title ?? "", steps: recipe?.steps ?? [], scoops: 0, sinceGrinding: 0,
  };
  return withUsualWater(setup, cupboard);
}
