// The brewing control chart with one's own brews, and what was measured and noticed over them; each also as a table.

import { useState } from "preact/hooks";
import type { Attribute, TrendPoint, TrendView } from "../gen/types.ts";
import { useMinute } from "../model/clock.ts";
import { useView } from "../model/core.ts";
import { readNarrowing, searchOf, writeNarrowing, type Narrowing } from "../model/narrowing.ts";
import { formatNumber } from "../model/numbers.ts";
import { attributes, balanceLine, formatMark, strengthEnds, yieldEnds } from "../model/quantities.ts";
import { noteQuery, place } from "../model/router.ts";
import { formatClock, formatMoment } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { ControlChart, measured } from "../parts/chart/controlchart.tsx";
import { TrendPlot } from "../parts/chart/trendplot.tsx";
import { Choice, Pick } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Sideways } from "../parts/sideways/sideways.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { log } from "../words.ts";
import { Narrowed } from "./brewlognarrow.tsx";
import "./lookback.css";

/** So many points can still be told from each other on a phone. */
const NEWEST = 120;

export function Chart() {
  const [narrowing, setNarrowing] = useState(() => readNarrowing(place.value.query));
  const seen = useView("trend", { search: searchOf(narrowing), limit: NEWEST });
  const narrow = (change: Partial<Narrowing>) => {
    const next = { ...narrowing, ...change };
    setNarrowing(next);
    noteQuery(writeNarrowing(next));
  };
  return (
    <Shown seen={seen} title={log.chartTitle} above={paths.brewLog}>
      {(view) => (
        <Page title={log.chartTitle} above={paths.brewLog} aside={shownWords(view)}>
          {!view.ready && <p class="soft">{log.judging}</p>}
          {narrowing.words && <Button onPress={() => narrow({ words: "" })}>{log.without(`“${narrowing.words}”`)}</Button>}
          <Narrowed narrowing={narrowing} onNarrow={narrow} />
          <Control view={view} />
          <OverTime points={view.points} />
        </Page>
      )}
    </Shown>
  );
}

function shownWords({ points, all }: TrendView): string {
  return points.length < all ? log.shownOf(formatNumber(points.length, 0), formatNumber(all, 0)) : log.every(formatNumber(all, 0));
}

function Control({ view }: { view: TrendView }) {
  const [chosen, setChosen] = useState<string>(view.range);
  const points = measured(view.points);
  const options = [...view.ranges.map(({ id }) => ({ value: id as string, label: words.tradeRange[id] })), { value: "", label: log.noRange }];
  return (
    <section class="stack close">
      <h2>{log.control}</h2>
      <Choice label={log.range} options={options} value={chosen} onValue={setChosen} />
      <ControlChart points={points} range={view.ranges.find(({ id }) => id === chosen)} lines={view.lines} />
      {points.length === 0 ? (
        <p>{log.controlNone}</p>
      ) : (
        <Table
          caption={log.control}
          points={points}
          columns={[
            ["TDS %", strengthEnds],
            ["EY %", (point) => point.yield && yieldEnds(point.yield)],
            [log.ratio, ({ ratio }) => ratio > 0 && log.ratioLine(formatNumber(ratio, 1))],
          ]}
        />
      )}
    </section>
  );
}

const some = (value: number) => (value > 0 ? value : undefined);

function OverTime({ points }: { points: readonly TrendPoint[] }) {
  const [of, setOf] = useState<Attribute>("acid");
  const noted = (point: TrendPoint) => point.balance.find((mark) => mark.of === of)?.mark;
  const any = points.some((point) => point.seconds > 0 || point.tds > 0 || point.yield || point.balance.length > 0);
  return (
    <section class="stack">
      <h2>{log.overTime}</h2>
      {!any && <p class="soft">{log.overNone}</p>}
      <TrendPlot title={log.time} points={points} value={({ seconds }) => some(seconds)} show={(seconds) => formatClock(1000 * seconds)} span={[120, 240]} />
      <TrendPlot title={log.strength} points={points} value={({ tds }) => some(tds)} ends={({ tds, open }) => [tds - open, tds + open]} show={(tds) => formatNumber(tds)} span={[1.1, 1.4]} />
      <TrendPlot
        title={log.extraction}
        points={points}
        value={(point) => point.yield?.value}
        ends={(point) => point.yield && [point.yield.low, point.yield.high]}
        show={(ey) => formatNumber(ey)}
        span={[18, 22]}
      />
      {points.some(({ balance }) => balance.length > 0) && (
        <>
          <Pick label={log.balance} options={attributes.map((value) => ({ value, label: words.attribute[value] }))} value={of} onValue={(value) => setOf(value as Attribute)} />
          <TrendPlot title={words.attribute[of]} points={points} value={noted} show={formatMark} span={[-500, 500]} aim={0} />
        </>
      )}
      {any && (
        <Table
          caption={log.overTime}
          points={points}
          columns={[
            [log.time, ({ seconds }) => seconds > 0 && formatClock(1000 * seconds)],
            ["TDS %", strengthEnds],
            ["EY %", (point) => point.yield && yieldEnds(point.yield)],
            [log.balance, ({ balance }) => balanceLine(balance)],
          ]}
        />
      )}
    </section>
  );
}

interface TableProps {
  caption: string;
  points: readonly TrendPoint[];
  columns: readonly [string, (point: TrendPoint) => string | false | undefined][];
}

/** The newest first, each leads to its brew. Made when it is opened. */
function Table({ caption, points, columns }: TableProps) {
  const [open, setOpen] = useState(false);
  const now = useMinute();
  return (
    <details class="fold" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{log.table}</summary>
      {open && (
        <Sideways label={caption}>
          <table class="marks whole columns">
            <caption class="unseen">{caption}</caption>
            <thead>
              <tr>
                <th scope="col">{log.when}</th>
                {columns.map(([name]) => (
                  <th key={name} scope="col">
                    {name}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {points.toReversed().map((point) => (
                <tr key={point.brew}>
                  <th scope="row">
                    <a href={paths.brew(point.book, point.brew)}>{formatMoment(point.began, now)}</a>
                    {point.bowl && <span class="small"> {log.bowlKind}</span>}
                  </th>
                  {columns.map(([name, value]) => (
                    <td key={name}>{value(point) || "–"}</td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </Sideways>
      )}
    </details>
  );
}
