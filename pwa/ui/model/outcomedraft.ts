// What somebody wrote of a brew and has not saved yet. It stays for this browser tab, so that a look at the other cup loses nothing.

import type { BrewOutcome } from "../gen/types.ts";

export type OutcomeDraft = Partial<BrewOutcome>;

const keyOf = (brew: string) => `outcome ${brew}`;

export function recallOutcome(brew: string): OutcomeDraft {
  try {
    return JSON.parse(sessionStorage.getItem(keyOf(brew)) ?? "{}") as OutcomeDraft;
  } catch {
    return {};
  }
}

/** What is no number is not kept; an empty draft is forgotten. */
export function keepOutcome(brew: string, draft: OutcomeDraft): void {
  try {
    if (Object.keys(draft).length === 0) sessionStorage.removeItem(keyOf(brew));
    else sessionStorage.setItem(keyOf(brew), JSON.stringify(draft, (_, value: unknown) => (Number.isNaN(value) ? 0 : value)));
  } catch {
    // no room: only a look elsewhere would miss it
  }
}
