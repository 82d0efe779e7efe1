// Words of the log, and the sentences of reasons.

import type { Reason } from "../gen/types.ts";

type Sentences = { [code: string]: ((n: string) => string) | undefined };

const scaling: Sentences = {
  geometry: () => "Only the shape says so yet.",
  fitted: (n) => `From ${n} of your brews.`,
  "not-enough-brews": (n) => `Not enough brews yet: ${n}.`,
  "small-dose": (n) => `Below ${n} g the paper decides.`,
};

const grinder: Sentences = {
  fitted: (n) => `From ${n} of your brews.`,
  "not-enough-brews": (n) => `Not enough brews yet: ${n}.`,
};

const sentences: { [pkg: string]: Sentences } = { scaling, grinder };

/** What a reason of one of the core's packages says; empty when it says nothing to a person. */
export function reasonSentence(pkg: string, reason: Reason): string {
  return sentences[pkg]?.[reason.code]?.(String(Math.round(reason.n * 10) / 10)) ?? "";
}
