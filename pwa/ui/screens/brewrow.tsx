// A brew as a row of the log.

import type { BrewDigest } from "../gen/types.ts";
import { formatCode } from "../model/going.ts";
import { formatNumber } from "../model/numbers.ts";
import { formatMoment } from "../model/times.ts";
import * as words from "../words.ts";
import { brewFacts } from "./bench.tsx";

export const digestTitle = (brew: BrewDigest) => (brew.code ? formatCode(brew.code) : brew.coffee || words.tonight.ownCoffee);

export function BrewRow({ brew, href, now }: { brew: BrewDigest; href: string; now: number }) {
  const came = [brewFacts(brew), brew.yield > 0 && `EY ${formatNumber(brew.yield, 1)} %`, brew.abandoned && words.bench.abandoned];
  const made = [formatMoment(brew.began, now), brew.grind && words.bench.atGrind(brew.grind), brew.recipe || brew.brewer];
  return (
    <a class="list-row" href={href}>
      <span class="grow">
        <strong dir="auto">{digestTitle(brew)}</strong>
        {brew.bowl > 0 && <span class="small soft"> {words.log.bowl(brew.bowl)}</span>}
        <span class="brewrow-facts small">{came.filter(Boolean).join(", ")}</span>
        <span class="brewrow-facts small soft">{made.filter(Boolean).join(", ")}</span>
      </span>
    </a>
  );
}
