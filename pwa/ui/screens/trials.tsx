// The tree of an evening's trials: a row for each brew, a line from each brew to those that were changed from it, and what
// was changed. The line is only drawn; every row says in words what it comes from.

import type { Trial } from "../gen/types.ts";
import { useView } from "../model/core.ts";
import { moments } from "../model/formats.ts";
import { formatNumber } from "../model/numbers.ts";
import { balanceLine, formatYield } from "../model/quantities.ts";
import type { Params } from "../model/router.ts";
import { formatHour } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { paths } from "../paths.ts";
import { log } from "../words.ts";
import { brewFacts } from "./bench.tsx";
import { changeWords } from "./brewformplan.tsx";
import { digestTitle } from "./brewrow.tsx";
import "./lookback.css";

export function Trials({ params }: { params: Params }) {
  const asked = { book: params.book ?? "", brew: params.brew ?? "" };
  const above = paths.brew(asked.book, asked.brew);
  const seen = useView("trials", asked);
  return (
    <Shown seen={seen} title={log.trials} above={above}>
      {({ ready, rows }) => (
        <Page title={log.trials} above={above} aside={rows[0] && `${log.adviceOf(digestTitle(rows[0].brew))} · ${moments({ dateStyle: "medium" }).format(rows[0].brew.began)}`}>
          <p class="small soft">{log.trialsText}</p>
          {!ready && <p class="soft">{log.judging}</p>}
          <ol class="trials">
            {rows.map((row, at) => (
              <Try key={row.brew.brew} rows={rows} at={at} here={row.brew.brew === asked.brew} />
            ))}
          </ol>
          <div class="pair">
            <Button href={paths.advice(asked.book, asked.brew)}>{log.advice}</Button>
            <Button href={paths.repeat(asked.book, asked.brew)}>{log.howEqual}</Button>
          </div>
        </Page>
      )}
    </Shown>
  );
}

/** The rows follow the branches; the tries are counted as they were brewed. */
const nth = (rows: readonly Trial[], at: number) => 1 + rows.filter(({ brew }, i) => brew.began < rows[at]!.brew.began || (brew.began === rows[at]!.brew.began && i < at)).length;

function Try({ rows, at, here }: { rows: readonly Trial[]; at: number; here: boolean }) {
  const row = rows[at]!;
  const { brew, parent, since } = row;
  const changed = since?.list.filter(({ kind }) => kind === "changed" || kind === "added" || kind === "removed") ?? [];
  const from = parent >= 0 ? log.trialFrom(nth(rows, parent)) : row.orphan ? log.trialOrphan : log.trialFirst;
  const cup = [brew.tds > 0 && `TDS ${formatNumber(brew.tds)} %`, row.yield && `EY ${formatYield(row.yield)}`, balanceLine(row.balance)].filter(Boolean).join(", ");
  return (
    <li class="trial" aria-current={here ? "true" : undefined}>
      <Lanes rows={rows} at={at} />
      <div class="trial-text">
        <a href={paths.brew(brew.book, brew.brew)}>
          <span>
            <strong>{log.trial(nth(rows, at))}</strong>, {formatHour(brew.began)}
          </span>
        </a>
        <p class="small soft">
          {from}; {brewFacts({ ...brew, tds: 0 })}
        </p>
        {changed.map((change, i) => (
          <p key={i}>{changeWords(change)}</p>
        ))}
        {since?.verdict === "several" && <p class="trial-several">{log.severalShort}</p>}
        {cup && <p>{cup}</p>}
      </div>
    </li>
  );
}

const LANE = 18;

/** The lines that pass beside a row, and its dot. */
function Lanes({ rows, at }: { rows: readonly Trial[]; at: number }) {
  const row = rows[at]!;
  const middle = (lane: number) => `${lane * LANE + LANE / 2}px`;
  const wide = Math.max(...rows.map(({ lane }) => lane)) + 1;
  const lines: [string, number, number?][] = [];
  for (const [i, { parent, lane }] of rows.entries()) {
    if (parent < 0) continue;
    if (parent === at) lines.push(["down", lane], ...(lane === row.lane ? [] : [["bend", Math.min(lane, row.lane), Math.abs(lane - row.lane)] as [string, number, number]]));
    else if (i === at) lines.push(["up", lane]);
    else if (parent < at && i > at) lines.push(["pass", lane]);
  }
  return (
    <div class="trial-lanes" aria-hidden="true" style={{ width: `${wide * LANE}px` }}>
      {lines.map(([kind, lane, across = 0], i) => (
        <span key={i} class={`trial-line ${kind}`} style={{ insetInlineStart: middle(lane), ...(across > 0 && { width: `${across * LANE}px` }) }} />
      ))}
      <span class={row.orphan || row.parent < 0 ? "trial-dot root" : "trial-dot"} style={{ insetInlineStart: middle(row.lane) }} />
    </div>
  );
}
