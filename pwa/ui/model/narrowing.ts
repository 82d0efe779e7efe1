// What a list of brews is narrowed to, as it stands in an address, so that back, a reload and a link find it again.

import type { BrewSearch } from "../gen/types.ts";

/** All of it may be empty. Days are as an input of type date has them, by the person's own calendar. */
export interface Narrowing {
  words: string;
  coffee: string;
  brewer: string;
  grinder: string;
  recipe: string;
  sample: string;
  from: string;
  until: string;
  bowls: boolean;
  measured: boolean;
}

export const wide: Narrowing = {
  words: "",
  coffee: "",
  brewer: "",
  grinder: "",
  recipe: "",
  sample: "",
  from: "",
  until: "",
  bowls: false,
  measured: false,
};

export type Narrow = keyof Narrowing;

/** Those that are in use, the words first. */
export function inUse(narrowing: Narrowing): Narrow[] {
  return (Object.keys(wide) as Narrow[]).filter((name) => narrowing[name]);
}

export function readNarrowing(query: string): Narrowing {
  const given = new URLSearchParams(query);
  const text = (name: Narrow) => given.get(name) ?? "";
  const day = (name: Narrow) => (/^\d{4}-\d\d-\d\d$/.test(text(name)) && !Number.isNaN(midnight(text(name))) ? text(name) : "");
  return {
    words: text("words"),
    coffee: text("coffee"),
    brewer: text("brewer"),
    grinder: text("grinder"),
    recipe: text("recipe"),
    sample: text("sample"),
    from: day("from"),
    until: day("until"),
    bowls: given.has("bowls"),
    measured: given.has("measured"),
  };
}

/** The row that stood at the top of the list. */
export function readRow(query: string): number {
  const row = Number(new URLSearchParams(query).get("row"));
  return Number.isInteger(row) && row > 0 ? row : 0;
}

export function writeNarrowing(narrowing: Narrowing, row = 0): string {
  const out = new URLSearchParams();
  for (const name of inUse(narrowing)) {
    const value = narrowing[name];
    out.set(name, value === true ? "" : String(value));
  }
  if (row > 0) out.set("row", String(row));
  return out.toString();
}

/** As the core is asked. The last day is meant whole. */
export function searchOf({ from, until, ...rest }: Narrowing): BrewSearch {
  return {
    ...rest,
    from: from ? midnight(from) : 0,
    until: until ? midnight(until, 1) : 0,
  };
}

function midnight(day: string, later = 0): number {
  const [year = NaN, month = NaN, date = NaN] = day.split("-").map(Number);
  return new Date(year, month - 1, date + later).getTime();
}
