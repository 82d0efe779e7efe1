// What a row of the Cupboard says of an item.

import type {
  BrewerItem, CoffeeItem, ConcentrateItem, CupboardView, Geometry, GrinderItem, InstrumentItem, InstrumentKind, ItemKind, Kept, Recipe, RecipeItem, WaterItem,
} from "../gen/types.ts";
import { formatNumber } from "./numbers.ts";
import { formatClock } from "./times.ts";
import { formatTemperature, formatWeight } from "./units.ts";
import * as words from "../words.ts";
import { items, recipe as says } from "../words.ts";

export interface ItemRow {
  id: string;
  name: string;
  about: string;
  kept: Kept;
  shape?: Geometry;
  /** Share that is left of it. */
  left?: number;
}

const joined = (...parts: (string | false | undefined)[]) => parts.filter(Boolean).join(", ");

export function coffeeAbout({ coffee, left, rest }: CoffeeItem): string {
  const grams = coffee.grams > 0 && (left > 0 ? items.left(formatWeight(left), formatWeight(coffee.grams)) : items.used);
  return joined(grams, rest >= 0 && (coffee.frozen ? items.restedFrozen : items.rested)(Math.floor(rest)), coffee.from);
}

function coffeeRow(item: CoffeeItem): Omit<ItemRow, "kept"> {
  const { coffee, left } = item;
  return { id: coffee.id, name: coffee.name, about: coffeeAbout(item), ...(coffee.grams > 0 && { left: left / coffee.grams }) };
}

const brewerRow = ({ brewer }: BrewerItem) => ({
  id: brewer.id, name: brewer.name, shape: brewer.geometry,
  about: joined(words.geometry[brewer.geometry], brewer.holds > 0 && formatWeight(brewer.holds)),
});

const grinderRow = ({ grinder }: GrinderItem) => ({
  id: grinder.id, name: grinder.name, about: joined(grinder.burr && words.burr[grinder.burr], items.scaleName[grinder.scale]),
});

const waterRow = ({ water, reads }: WaterItem) => ({
  id: water.id, name: water.name,
  about: joined(words.waterSource[water.source], `${words.water.hardness.toLowerCase()} ${formatNumber(reads.hardness, 0)}, ${words.water.alkalinity.toLowerCase()} ${formatNumber(reads.alkalinity, 0)} ${words.water.asCaCO3}`),
});

const concentrateRow = ({ concentrate }: ConcentrateItem) => ({
  id: concentrate.id, name: concentrate.name, about: concentrate.salts.map(({ salt }) => words.water.saltNames[salt]).join(", "),
});

/** The unit of what an instrument is sure to. */
export const precisionUnits: { [kind in InstrumentKind]: string } = { scale: "g", refractometer: "% TDS", thermometer: "°C" };

const instrumentRow = ({ instrument }: InstrumentItem) => ({
  id: instrument.id, name: instrument.name,
  about: joined(words.instrumentKind[instrument.what], instrument.precision > 0 && items.precise(`${formatNumber(instrument.precision, 3)} ${precisionUnits[instrument.what]}`)),
});

export function recipeLine({ dose, ratio, steps }: Recipe): string {
  const ends = Math.max(0, ...steps.map(({ at, until }) => Math.max(at, until)));
  return says.line(formatWeight(dose), formatWeight(dose * ratio, 0), formatClock(ends * 1000));
}

/** Higher up, water boils before some kettles come to what a recipe says. */
const recipeRow = ({ recipe, starting }: RecipeItem, boiling: number) => ({
  id: recipe.id, name: recipe.title, shape: recipe.geometry,
  about: joined(recipeLine(recipe), recipe.kettle > 0 && formatTemperature(Math.min(recipe.kettle, boiling)), starting && says.mark),
});

/** The rows of a kind, in the core's order. */
export function rowsOf(what: ItemKind, view: CupboardView): ItemRow[] {
  const list = <T extends { kept: Kept }>(all: readonly T[], row: (item: T) => Omit<ItemRow, "kept">) => all.map((item) => ({ ...row(item), kept: item.kept }));
  switch (what) {
    case "coffee":
      return list(view.coffees, coffeeRow);
    case "brewer":
      return list(view.brewers, brewerRow);
    case "grinder":
      return list(view.grinders, grinderRow);
    case "water":
      return list(view.waters, waterRow);
    case "concentrate":
      return list(view.concentrates, concentrateRow);
    case "instrument":
      return list(view.instruments, instrumentRow);
    case "recipe":
      return list(view.recipes, (item) => recipeRow(item, view.boiling));
  }
}

export const itemKinds: readonly ItemKind[] = ["coffee", "brewer", "grinder", "recipe", "water", "concentrate", "instrument"];
