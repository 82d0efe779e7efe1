// The Bench as it opens: begin a brew, what runs, what was brewed lately.

import type { BenchView, BrewDigest } from "../gen/types.ts";
import { useMinute, useSecond } from "../model/clock.ts";
import { useView } from "../model/core.ts";
import { formatCode, goingRows } from "../model/going.ts";
import { formatNumber } from "../model/numbers.ts";
import { formatClock, formatMoment } from "../model/times.ts";
import { doseLine } from "../model/quantities.ts";
import { Button } from "../parts/button/button.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { RunningRow } from "../parts/strip/strip.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { bench } from "../words.ts";
import { SampleRows } from "./samplerows.tsx";

export function Bench() {
  const seen = useView("bench");
  return (
    <Shown seen={seen} title={bench.title}>
      {(view) => (
        <Page
          title={bench.title}
          action={
            <Button kind="primary" href={paths.brewNew}>
              {bench.begin}
            </Button>
          }
        >
          <Open view={view} />
        </Page>
      )}
    </Shown>
  );
}

function Open({ view }: { view: BenchView }) {
  const now = useSecond(view.going.length > 0);
  return (
    <>
      {goingRows(view.going, now).map((brew) => (
        <RunningRow key={brew.href} brew={brew} />
      ))}
      <SampleRows samples={view.samples} />
      <Button href={paths.bowlsNew}>{words.bowls.title}</Button>
      {view.recent.length === 0 ? (
        <p class="soft">{bench.empty}</p>
      ) : (
        <section class="stack close">
          <h2>{bench.recent}</h2>
          <BrewList brews={view.recent} />
          {view.brews > view.recent.length && (
            <Button kind="quiet" href={paths.brewLog}>
              {bench.all(view.brews)}
            </Button>
          )}
        </section>
      )}
    </>
  );
}

export function BrewList({ brews }: { brews: readonly BrewDigest[] }) {
  const now = useMinute();
  return (
    <ul class="list">
      {brews.map((brew) => (
        <li key={brew.book + brew.brew}>
          <a class="list-row" href={paths.brew(brew.book, brew.brew)}>
            <span class="grow">
              <strong>{brew.code ? formatCode(brew.code) : brew.coffee || words.tonight.ownCoffee}</strong>
              <br />
              <span class="small soft">{brewFacts(brew)}</span>
            </span>
            <span class="small soft">{formatMoment(brew.began, now)}</span>
          </a>
        </li>
      ))}
    </ul>
  );
}

/** 15 g to 240 g, 2:52; brewing. */
export function brewFacts(brew: BrewDigest): string {
  const facts: string[] = [];
  const dose = doseLine(brew);
  if (dose) facts.push(dose);
  if (brew.drawdown > 0) facts.push(formatClock(brew.drawdown * 1000));
  if (brew.tds > 0) facts.push(`TDS ${formatNumber(brew.tds)} %`);
  if (brew.state !== "done") facts.push(brew.drawdown > 0 ? bench.stopped : words.brewState[brew.state]);
  return facts.join(", ");
}
