// A table of bowls, and whose turn it is: which bowl is poured next, whose crust is to be broken and when, which is cool enough
// to taste. The times are those of the bowls' plan; a touch only records.

import type { BrewView, Mark } from "../gen/types.ts";

export type Deed = "pour" | "break" | "skim" | "taste";

export interface Turn {
  bowl: BrewView;
  deed: Deed;
  /** By this phone's clock; 0 for at once. */
  at: number;
}

const ORDER: readonly Deed[] = ["pour", "break", "skim", "taste"];

/** What stands in the plan when nobody planned anything: a cupping bowl, in seconds. */
const USUAL: { [deed in Deed]: number } = { pour: 0, break: 240, skim: 255, taste: 600 };

/** A bowl's turn comes this long before it is due; until then another is poured. */
const SOON_MS = 12_000;

/** Skimming waits for a crust that is nearly due: all are broken, then all are skimmed. */
const SKIM_WAITS_MS = 40_000;

export function has(bowl: BrewView, mark: Mark): boolean {
  return bowl.marks.some((each) => each.mark === mark);
}

/** The bowl's own next thing; undefined once it is tasted. */
export function turnOf(bowl: BrewView): Turn | undefined {
  if (bowl.state === "done") return undefined;
  if (bowl.began === 0) return { bowl, deed: "pour", at: 0 };
  const deed = ORDER.find((each) => each !== "pour" && !has(bowl, each));
  return deed && { bowl, deed, at: dueAt(bowl, deed) };
}

function dueAt(bowl: BrewView, deed: Deed): number {
  const planned = bowl.plan?.steps.find((step) => step.kind === deed)?.at ?? USUAL[deed];
  const at = bowl.began + planned * 1000;
  if (deed !== "taste") return at;
  const cool = bowl.cooling?.calls[0]?.at; // 65 °C
  return Math.max(at, cool ?? 0);
}

/** Whose turn it is now. */
export function nextTurn(bowls: readonly BrewView[], now: number): Turn | undefined {
  const turns = bowls.map(turnOf).filter((turn) => turn !== undefined);
  const poured = turns.filter((turn) => turn.deed !== "pour").sort((a, b) => rank(a) - rank(b));
  const due = poured.find((turn) => turn.at <= now + SOON_MS);
  return due ?? turns.find((turn) => turn.deed === "pour") ?? poured[0];
}

const rank = ({ deed, at }: Turn) => at + (deed === "skim" ? SKIM_WAITS_MS : 0);

export interface Undo {
  bowl: BrewView;
  mark: Mark;
  /** Until when it can be taken back. */
  until: number;
}

/** A touch can be taken back for this long. */
const UNDO_MS = 10_000;

/** The newest touch of all bowls, while it can be taken back. */
export function undoable(bowls: readonly BrewView[], now: number): Undo | undefined {
  let newest: Undo | undefined;
  for (const bowl of bowls) {
    const last = bowl.marks.at(-1);
    if (!last || bowl.state !== "going") continue;
    const until = bowl.began + last.at * 1000 + UNDO_MS;
    if (until > now && (!newest || until > newest.until)) newest = { bowl, mark: last.mark, until };
  }
  return newest;
}
