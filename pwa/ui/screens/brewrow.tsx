// A brew as a row of the log.

import type { BrewDigest } from "../gen/types.ts";
import { formatCode } from "../model/going.ts";
import { formatNumber } from "../model/numbers.ts";
import { formatMoment } from "../model/times.ts";
import { words } from "../words.ts";
import { brewFacts } from "./bench.tsx";

export const digestTitle = (brew: BrewDigest) => (brew.code ? formatCode(brew.code) : brew.coffee || words.tonight.ownCoffee);

export function BrewRow({ brew, href, now }: { brew: BrewDigest; href: string; now: number }) {
  const kit = [brew.recipe || brew.brewer, brew.grind && words.bench.atGrind(brew.grind), brew.yield > 0 && `EY ${formatNumber(brew.yield, 1)} %`].filter(Boolean).join(", ");
  const facts = [brewFacts(brew), brew.abandoned && words.bench.abandoned].filter(Boolean).join(", ");
  return (
    <a class="list-row" href={href}>
      <span class="grow">
        <strong dir="auto">{digestTitle(brew)}</strong>
        {brew.bowl > 0 && <span class="small soft"> {words.log.bowl(brew.bowl)}</span>}
        {facts && <span class="brewrow-facts small soft">{facts}</span>}
        {kit && <span class="brewrow-facts small soft">{kit}</span>}
      </span>
      <span class="small soft">{formatMoment(brew.began, now)}</span>
    </a>
  );
}
