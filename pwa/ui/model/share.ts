// How far a thing has come, as the sync mark shows it.

import type { GuessState, Share } from "../gen/types.ts";
import type { SyncState } from "../parts/sync/sync.tsx";

const states: { [share in Share]: SyncState } = { device: "device", onItsWay: "way", shared: "shared", refused: "refused" };

export function shareState(share: Share): { state: SyncState } {
  return { state: states[share] };
}

/** Once a guess is ordered, what counts is whether it was in before the close. */
export function guessState({ share, timing }: GuessState): { state: SyncState } {
  if (share === "shared" && timing !== "") return { state: timing };
  return shareState(share);
}
