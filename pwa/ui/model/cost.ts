// The one cause that cost most, as a sentence: so much on what was wrong and, where there is one, a share that would have cost
// less; or no word at all on that question, but what follows from the answers to others.

import type { ResultCost } from "../gen/types.ts";
import * as words from "../words.ts";
import { flights } from "../words.ts";
import { formatShare } from "./numbers.ts";

export function costSentence({ facet, node, name, share, better, less }: ResultCost): string {
  if (node === "") return flights.costUnsaid(words.facet[facet]);
  const advised = better > 0 || less.bits !== 0;
  return flights.cost(formatShare(share), name) + (advised ? flights.costLess(formatShare(better)) : ".");
}
