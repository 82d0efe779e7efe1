// Two brews side by side: what changed, what differs, and whether that is more than two brews of one recipe differ by.

import { Fragment, type ComponentChildren } from "preact";
import type { BrewView, CompareView, Difference } from "../gen/types.ts";
import { useMinute } from "../model/clock.ts";
import { useView } from "../model/core.ts";
import { formatFixed, formatNumber } from "../model/numbers.ts";
import { attributes, formatApart, formatMark, formatYield } from "../model/quantities.ts";
import type { Params } from "../model/router.ts";
import { formatClock, formatMoment } from "../model/times.ts";
import { formatTemperature, formatWeight } from "../model/units.ts";
import { Button } from "../parts/button/button.tsx";
import { type Point, WeightLine } from "../parts/chart/weightline.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { log, bench } from "../words.ts";
import { reasonSentence } from "../words/log.ts";
import { brewTitle } from "./brew.tsx";
import { Changed } from "./brewformplan.tsx";
import { actualLine } from "./brewtimeline.tsx";
import "./lookback.css";

export function Compare({ params }: { params: Params }) {
  const first = { book: params.book ?? "", brew: params.brew ?? "" };
  const second = { book: params.otherBook ?? "", brew: params.otherBrew ?? "" };
  const above = paths.brew(first.book, first.brew);
  const seen = useView("compare", { first, second });
  if (first.brew === second.brew) {
    return (
      <Page title={log.compare} above={above}>
        <p>{log.compareSame}</p>
        <Button href={paths.compareWith(first.book, first.brew)}>{log.compareWith}</Button>
      </Page>
    );
  }
  return (
    <Shown seen={seen} title={log.compare} above={above}>
      {(view) => (
        <Page title={log.compare} above={above}>
          {view.first && view.second ? <Both view={view} first={view.first} second={view.second} /> : <p class="soft">{words.common.loading}</p>}
        </Page>
      )}
    </Shown>
  );
}

function Both({ view, first, second }: { view: CompareView; first: BrewView; second: BrewView }) {
  return (
    <>
      <section class="stack close">
        <p class="title">{view.ready ? words.compare[view.verdict] : log.judging}</p>
        {view.reasons.map((reason, i) => (
          <p key={i}>{reasonSentence("repeat", reason)}</p>
        ))}
      </section>
      {view.changes && <Changed changes={view.changes} />}
      <SideBySide first={first} second={second} by={view.by} />
      {view.match && view.changes?.list.some(({ field }) => field === "coffee") && <p>{log.match(...([view.match.value, view.match.low, view.match.high].map((ratio) => log.ratioLine(formatFixed(ratio, 1))) as [string, string, string]))}</p>}
      {view.by.some(({ enough }) => enough) && <p class="small soft">{log.apartHow}</p>}
      <BothLines first={first} second={second} />
      <nav class="pair no-print" aria-label={bench.onward}>
        <Button href={paths.compareWith(first.book, first.brew)}>{log.compareWith}</Button>
        <Button href={paths.repeat(second.book, second.brew)}>{log.howEqual}</Button>
        <Button onPress={() => print()}>{bench.print}</Button>
      </nav>
    </>
  );
}

type Row = [label: string, of: Difference["of"] | "", value: (brew: BrewView) => ComponentChildren];

const grams = (value: number) => value > 0 && formatWeight(value, 1);

const rows: readonly Row[] = [
  [bench.dose, "", ({ setup }) => grams(setup.dose)],
  [bench.scoops, "", ({ setup }) => setup.scoops > 0 && formatNumber(setup.scoops)],
  [bench.water, "", ({ setup }) => grams(setup.water)],
  [log.grinder, "", ({ setup }) => setup.grinder],
  [bench.grind, "", ({ setup }) => setup.grind],
  [bench.sinceGrinding, "", ({ setup }) => setup.sinceGrinding > 0 && `${formatNumber(setup.sinceGrinding)} min`],
  [bench.kettle, "", ({ setup }) => setup.kettle > 0 && formatTemperature(setup.kettle)],
  [log.brewer, "", ({ setup }) => setup.brewer],
  [bench.filter, "", ({ setup }) => setup.filter],
  [log.recipe, "", ({ setup }) => setup.recipe],
  [bench.waterKind, "", ({ setup }) => setup.waterName],
  [words.quantity.seconds, "seconds", ({ drawdown }) => drawdown > 0 && formatClock(drawdown * 1000)],
  [bench.slurry, "", ({ outcome }) => outcome.slurry > 0 && formatTemperature(outcome.slurry, 1)],
  [bench.bypass, "", ({ outcome }) => grams(outcome.bypass)],
  [words.quantity.beverage, "beverage", ({ outcome }) => grams(outcome.beverage)],
  [words.quantity.tds, "tds", ({ outcome, strength }) => strength && `${formatNumber(outcome.tds)} % (${formatFixed(strength.low, 2)}–${formatFixed(strength.high, 2)})`],
  [words.quantity.ey, "ey", (brew) => brew.yield && formatYield(brew.yield)],
  ...attributes.map(
    (of): Row => [
      words.attribute[of],
      of,
      ({ outcome }) => {
        const found = outcome.balance.find((mark) => mark.of === of);
        return found && formatMark(found.mark);
      },
    ],
  ),
  [bench.notes, "", ({ outcome }) => outcome.notes && <span dir="auto">{outcome.notes}</span>],
];

function SideBySide({ first, second, by }: { first: BrewView; second: BrewView; by: readonly Difference[] }) {
  const now = useMinute();
  const alike = brewTitle(first) === brewTitle(second);
  const judged = by.some(({ enough }) => enough); // else the verdict has said so already
  const head = (brew: BrewView, place: string) => (
    <th scope="col">
      <span class="small">{place}</span>
      <br />
      <a href={paths.brew(brew.book, brew.brew)}>
        {alike ? "" : `${brewTitle(brew)}, `}
        {formatMoment(brew.began, now)}
      </a>
    </th>
  );
  return (
    <table class="beside">
      <caption class="unseen">{log.compare}</caption>
      <thead>
        <tr>
          <td />
          {head(first, log.one)}
          {head(second, log.other)}
        </tr>
      </thead>
      <tbody>
        {rows.map(([label, of, value]) => {
          const [one, other] = [value(first), value(second)];
          if (!one && !other) return null;
          const difference = by.find((each) => each.of === of);
          return (
            <Fragment key={label}>
              <tr>
                <th scope="row">{label}</th>
                {one === other ? (
                  <td class="both" colSpan={2}>
                    {one}
                  </td>
                ) : (
                  <>
                    <td>{one || "–"}</td>
                    <td>{other || "–"}</td>
                  </>
                )}
              </tr>
              {difference && <Apart difference={difference} judged={judged} />}
            </Fragment>
          );
        })}
      </tbody>
    </table>
  );
}

function Apart({ difference: { of, by, enough, beyond }, judged }: { difference: Difference; judged: boolean }) {
  const range = enough ? ` (${log.between(formatApart(of, by.low), formatApart(of, by.high))})` : "";
  return (
    <tr class="apart">
      <td />
      <td colSpan={2} class="small">
        {log.apart} {formatApart(of, by.value)}
        {range}
        {judged && ": "}
        {judged && (enough ? beyond ? <strong>{log.beyond}</strong> : log.within : log.tooFew)}
      </td>
    </tr>
  );
}

/** What a line shows at a moment: after its last rise, between two points as it is drawn. */
function weightAt(line: readonly Point[], at: number): number {
  const next = line.findIndex(([moment]) => moment > at);
  if (next < 0) return line.at(-1)![1];
  const [[from, low], [to, high]] = [line[Math.max(0, next - 1)]!, line[next]!];
  return low + ((high - low) * (at - from)) / (to - from || 1);
}

/** What the scale showed, of both. */
function BothLines({ first, second }: { first: BrewView; second: BrewView }) {
  const lines = [actualLine(first), actualLine(second)] as const;
  if (lines.some((each) => each.length < 2) || Math.max(...lines.flat().map(([, weight]) => weight)) <= 10) return null;
  const moments = [...new Set(lines.flat().map(([at]) => at))].sort((a, b) => a - b);
  return (
    <>
      <WeightLine label={log.bothLabel} lines={[{ points: lines[0], look: "actual thin" }, { points: lines[1], look: "actual" }]}>
        {log.bothLines}
      </WeightLine>
      <details class="fold">
        <summary>{log.table}</summary>
        <table class="marks">
          <caption class="unseen">{log.bothLabel}</caption>
          <thead>
            <tr>
              <th scope="col">{log.time}</th>
              <th scope="col">{log.one}</th>
              <th scope="col">{log.other}</th>
            </tr>
          </thead>
          <tbody>
            {moments.map((at) => (
              <tr key={at}>
                <th scope="row">{formatClock(1000 * at)}</th>
                {lines.map((line, i) => (
                  <td key={i}>{formatWeight(weightAt(line, at), 0)}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </>
  );
}
