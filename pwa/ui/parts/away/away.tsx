// What is said to who is out of a club: what they had read stays, and what came after is not for them.

import type { BookStatus } from "../../gen/types.ts";
import * as words from "../../words.ts";

export function isAway(standing: BookStatus | undefined): standing is "out" | "removed" {
  return standing === "out" || standing === "removed";
}

export function Away({ standing }: { standing: BookStatus }) {
  if (!isAway(standing)) return null;
  return <p role="status">{words.club.awayText[standing]}</p>;
}
