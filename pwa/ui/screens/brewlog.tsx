// The whole log, newest first: found by words as they are typed, narrowed, and one comes back to where one was.

import type { ComponentChildren } from "preact";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import type { BrewDigest, BrewSearch, BrewsView } from "../gen/types.ts";
import { useMinute } from "../model/clock.ts";
import { ask, useView } from "../model/core.ts";
import { readNarrowing, readRow, searchOf, wide, writeNarrowing, type Narrowing } from "../model/narrowing.ts";
import { formatNumber } from "../model/numbers.ts";
import { noteQuery, place, type Params } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { TextField } from "../parts/field/field.tsx";
import { LENGTH, LongList } from "../parts/longlist/longlist.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { StatusLine } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { log } from "../words.ts";
import { Loosen, Narrowed } from "./brewlognarrow.tsx";
import { BrewRow } from "./brewrow.tsx";
import "./brewlog.css";

/** The first rows, and the next: for those the core reads all months, which a search needs, too. */
export function askLog(query: string): void {
  for (const skip of [0, LENGTH]) ask("brews", { skip, limit: LENGTH, search: searchOf(readNarrowing(query)) });
}

type Leads = (brew: BrewDigest) => string;

export function BrewLog() {
  return <Log title={log.title} above={paths.bench} leads={(brew) => paths.brew(brew.book, brew.brew)} chart />;
}

/** The log, to pick the brew that another one is compared with. */
export function ComparePick({ params }: { params: Params }) {
  const { book = "", brew = "" } = params;
  return <Log title={log.compareWith} aside={log.comparePick} above={paths.brew(book, brew)} leads={(other) => paths.compare(book, brew, other.book, other.brew)} />;
}

interface Props {
  title: string;
  aside?: string;
  above: string;
  leads: Leads;
  /** Leads to the chart of what is found. */
  chart?: boolean;
}

function Log({ title, aside, above, leads, chart }: Props) {
  const [start] = useState(() => place.value.query);
  const [narrowing, setNarrowing] = useState(() => readNarrowing(start));
  const [row] = useState(() => readRow(start));
  const search = useMemo(() => searchOf(narrowing), [narrowing]);
  const seen = useView("brews", { skip: 0, limit: LENGTH, search });
  const view = useLast(seen.value);
  const narrow = (change: Partial<Narrowing>) => {
    const next = { ...narrowing, ...change };
    setNarrowing(next);
    noteQuery(writeNarrowing(next));
  };
  const list = useFound(view?.found ?? 0, useLast(seen.value && search) ?? search, row, leads, (at) => noteQuery(writeNarrowing(narrowing, at)));
  return (
    <Shown seen={{ ...seen, value: view }} title={title} above={above}>
      {({ all, found, ready }) => (
        <Page title={title} above={above} {...(aside !== undefined && { aside })}>
          {all === 0 ? (
            <p class="soft">{words.bench.logEmpty}</p>
          ) : (
            <>
              <TextField label={log.find} hint={log.findHint} value={narrowing.words} maxLength={200} capitals="none" onValue={(text) => narrow({ words: text })} />
              <Narrowed narrowing={narrowing} onNarrow={narrow} />
              <div class="row apart">
                <StatusLine>{foundWords(found, all, ready)}</StatusLine>
                {chart && <Button href={paths.chartOf(writeNarrowing(narrowing))}>{log.chart}</Button>}
              </div>
              {found === 0 && ready && <Loosen narrowing={narrowing} onNarrow={narrow} onAll={() => narrow(wide)} />}
              {list}
            </>
          )}
        </Page>
      )}
    </Shown>
  );
}

function foundWords(found: number, all: number, ready: boolean): string {
  const number = formatNumber(found, 0);
  if (!ready) return log.stillReading(number);
  return found === all ? log.every(number) : log.found(number, formatNumber(all, 0));
}

/** What was there before stays until what is asked now has come: nothing flashes while one types. */
function useLast<T>(value: T | undefined): T | undefined {
  const last = useRef(value);
  if (value !== undefined) last.current = value;
  return last.current;
}

/** What was found: drawn anew when it has come, not with each letter that asks for something else. */
function useFound(count: number, search: BrewSearch, row: number, leads: Leads, onRow: (row: number) => void): ComponentChildren {
  const latest = useRef(onRow);
  latest.current = onRow;
  return useMemo(
    () => (
      <LongList count={count} row={row} onRow={(at) => latest.current(at)}>
        {(from, height) => <Length key={from} from={from} height={height} search={search} leads={leads} />}
      </LongList>
    ),
    [count, search, leads],
  );
}

function Length({ from, height, search, leads }: { from: number; height: number; search: BrewSearch; leads: Leads }) {
  const [later, setLater] = useState(search);
  useEffect(() => setLater(search), [search]); // those further down are asked for when the first are on the screen
  const view: BrewsView | undefined = useLast(useView("brews", { skip: from, limit: LENGTH, search: from === 0 ? search : later }).value);
  const now = useMinute();
  const brews = view?.brews ?? [];
  // made once for what was found: a letter draws the rest of the screen, and these again only when they are others
  const rows = useMemo(
    () =>
      brews.map((brew) => (
        <li key={brew.book + brew.brew}>
          <BrewRow brew={brew} href={leads(brew)} now={now} />
        </li>
      )),
    [view, now, leads],
  );
  const label = log.part(formatNumber(from + 1, 0), formatNumber(from + brews.length, 0));
  return (
    <ul class="list" data-from={from} aria-label={label} style={brews.length === 0 ? { height: `${height}px` } : {}}>
      {rows}
    </ul>
  );
}
