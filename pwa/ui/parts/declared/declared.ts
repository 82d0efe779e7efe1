// What is declared in the open, in words.

import type { Declared } from "../../gen/types.ts";
import * as words from "../../words.ts";

export function declaredWords(declared: Declared, readable = true): string {
  if (!readable) return words.flights.declaredUnreadable;
  const note = declared.note ? `; ${declared.note}` : "";
  switch (declared.choice) {
    case "nothing":
      return words.flights.declaredNothing + note;
    case "something": {
      const list = [...declared.additives.map((code) => words.additive[code]), ...declared.allergens.map((code) => words.allergen[code])];
      return list.join(", ") + note;
    }
    default:
      return words.flights.declaredUnknown + note;
  }
}

/** Worth a warning before the bag is opened. */
export function needsCare(declared: Declared, readable = true): boolean {
  return !readable || declared.choice !== "nothing";
}
