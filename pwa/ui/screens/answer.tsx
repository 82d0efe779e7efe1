// An answer as a list of facts: what it states, how that is known, and what is not scored.

import type { Answer, Facet, Known } from "../gen/types.ts";
import { nodeName, useAtlas } from "../model/atlas.ts";
import { formatNumber } from "../model/numbers.ts";
import * as words from "../words.ts";
import { flights } from "../words.ts";

const FACETS: readonly (Facet & keyof Answer)[] = ["origin", "process", "variety", "decaf", "roast", "altitude"];

export function AnswerFacts({ answer }: { answer: Answer }) {
  const atlas = useAtlas();
  const rows: [string, string, Known["source"] | undefined][] = [];
  for (const facet of FACETS) {
    const known = answer[facet];
    if (facet === "altitude" && heights(answer)) continue; // the band that follows from the height says nothing more
    if (known) rows.push([words.facet[facet], known.nodes.map((node) => nodeName(atlas, node)).join(", "), known.source]);
  }
  if (heights(answer)) rows.push([flights.height, heights(answer), undefined]);
  for (const [label, value] of [
    [flights.roastMeter, answer.roastMeter],
    [flights.lot, answer.lot],
    [flights.producer, answer.producer],
    [flights.roasted, answer.roasted],
    [flights.answerNote, answer.note],
  ] as const) {
    if (value) rows.push([label, value, undefined]);
  }
  return (
    <dl class="facts">
      {rows.map(([label, value, source]) => (
        <>
          <dt key={label}>{label}</dt>
          <dd>
            {value}
            {source && <span class="small soft answer-source"> {words.source[source]}</span>}
          </dd>
        </>
      ))}
    </dl>
  );
}

export function heights({ altitudeLow, altitudeHigh }: Answer): string {
  if (!altitudeLow && !altitudeHigh) return "";
  const [low, high] = [altitudeLow || altitudeHigh, altitudeHigh || altitudeLow];
  return low === high ? `${formatNumber(low, 0)} m` : `${formatNumber(low, 0)} to ${formatNumber(high, 0)} m`;
}
