// A setup that another screen proposes for the next brew: "brew it so". The form takes it once; a reload forgets it.

import type { BrewParams, BrewSetup } from "../gen/types.ts";

export interface Draft {
  setup: BrewSetup;
  /** The brew that it is a change of. */
  parent: BrewParams;
}

let draft: Draft | undefined;

/** Call it right before going to paths.brewAgain of the parent. */
export function propose(next: Draft): void {
  draft = next;
}

/** What was proposed as a change of this brew, once. */
export function takeProposed(parent: BrewParams): BrewSetup | undefined {
  const found = draft?.parent.book === parent.book && draft.parent.brew === parent.brew ? draft.setup : undefined;
  draft = undefined;
  return found;
}

let fresh: BrewSetup | undefined;

/** A setup for a brew of one's own that follows no other; call it right before going to paths.brewNew. */
export function proposeNew(setup: BrewSetup): void {
  fresh = setup;
}

/** What was proposed for a new brew, once. */
export function takeNew(): BrewSetup | undefined {
  const found = fresh;
  fresh = undefined;
  return found;
}
