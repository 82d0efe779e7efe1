// Running brews and cooling cups as rows: where they lead, what they are, how long.

import type { Going } from "../gen/types.ts";
import type { Running } from "../parts/strip/strip.tsx";
import { words } from "../words.ts";
import { paths } from "../paths.ts";

export function goingRows(going: readonly Going[], now: number): Running[] {
  return going.map((each) => ({
    href: paths.brew(each.book, each.brew),
    name: each.code ? formatCode(each.code) : each.coffee || words.tonight.ownCoffee,
    note: each.what === "brewing" ? words.tonight.brewing : words.tonight.cooling,
    elapsed: each.began > 0 ? now - each.began : undefined,
  }));
}

/** A blind code has three digits. */
export function formatCode(code: number): string {
  return String(code).padStart(3, "0");
}
