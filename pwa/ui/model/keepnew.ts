// What was typed as new on the way to a brew is kept in the Cupboard, so that it can be picked next time.

import type { BrewSetup, CupboardView } from "../gen/types.ts";
import { command } from "./core.ts";

interface Named {
  id: string;
  name: string;
}

const plain = (name: string) => name.trim().toLowerCase();
const called = <T extends Named>(items: readonly T[], name: string) => items.find((item) => plain(item.name) === plain(name));

/** Kinds of which a setup names something that the Cupboard does not have. */
export function newIn(setup: BrewSetup, cupboard: CupboardView | undefined, own: boolean): ("coffee" | "brewer" | "grinder")[] {
  if (!cupboard) return [];
  const kinds: ("coffee" | "brewer" | "grinder")[] = [];
  if (own && isNew(setup.coffee, setup.coffeeID, cupboard.coffees.map(({ coffee }) => coffee))) kinds.push("coffee");
  if (isNew(setup.brewer, setup.brewerID, cupboard.brewers.map(({ brewer }) => brewer))) kinds.push("brewer");
  if (isNew(setup.grinder, setup.grinderID, cupboard.grinders.map(({ grinder }) => grinder))) kinds.push("grinder");
  return kinds;
}

const isNew = (name: string, id: string, items: readonly Named[]) => name.trim() !== "" && id === "" && called(items, name) === undefined;

/** Gives what was typed the id of what it names. */
export function known(setup: BrewSetup, cupboard: CupboardView | undefined): BrewSetup {
  if (!cupboard) return setup;
  const idOf = (name: string, id: string, items: readonly Named[]) => id || (name.trim() ? (called(items, name)?.id ?? "") : "");
  return {
    ...setup,
    coffeeID: idOf(setup.coffee, setup.coffeeID, cupboard.coffees.map(({ coffee }) => coffee)),
    brewerID: idOf(setup.brewer, setup.brewerID, cupboard.brewers.map(({ brewer }) => brewer)),
    grinderID: idOf(setup.grinder, setup.grinderID, cupboard.grinders.map(({ grinder }) => grinder)),
  };
}

/** Puts what is new into the Cupboard, as far as it is known: a name, and a shape. */
export async function keepNew(setup: BrewSetup, cupboard: CupboardView | undefined, own: boolean): Promise<BrewSetup> {
  const kept = { ...setup };
  for (const kind of newIn(setup, cupboard, own)) {
    if (kind === "coffee") {
      const declared = { choice: "unknown" as const, allergens: [], additives: [], note: "" };
      const coffee = { name: setup.coffee, from: "", caffeine: "regular" as const, grams: 0, kept: 0, roasted: "", frozen: "", thawed: "", batch: "", moisture: 0, declared, note: "" };
      kept.coffeeID = (await command("coffee.save", { id: "", ...coffee })).id;
    } else if (kind === "brewer") {
      const geometry = setup.geometry || "other";
      kept.brewerID = (await command("brewer.save", { id: "", name: setup.brewer, geometry, filter: "", holds: 0, retained: 0, note: "" })).id;
    } else {
      const scale = { scale: "words" as const, perTurn: 0, step: 0, marks: [], finest: "", coarse: "" };
      kept.grinderID = (await command("grinder.save", { id: "", name: setup.grinder, burr: "", ...scale, stays: 0, shared: false, note: "" })).id;
    }
  }
  return kept;
}
