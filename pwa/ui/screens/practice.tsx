// What one has learned so far. With few cups there are no statistics, only concrete memory.

import type { ConfusedPair, PracticeLine, PracticeView } from "../gen/types.ts";
import { useView } from "../model/core.ts";
import { formatCode } from "../model/going.ts";
import { formatFactor } from "../model/numbers.ts";
import { Button } from "../parts/button/button.tsx";
import { OnwardIcon } from "../parts/icons/icons.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Sideways } from "../parts/sideways/sideways.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { practice } from "../words.ts";
import "./practice.css";

export function Practice() {
  const seen = useView("practice");
  return (
    <Shown seen={seen} title={practice.title}>
      {(view) => (
        <Page title={practice.title} {...(view.opened > 0 && { aside: practice.opened(view.opened) })}>
          {view.opened === 0 ? <Empty /> : <Learned view={view} />}
        </Page>
      )}
    </Shown>
  );
}

function Empty() {
  return (
    <>
      <div class="stack close">
        <p class="title">{practice.none}</p>
        <p class="soft">{practice.noneText}</p>
      </div>
      <Button kind="primary" href={paths.brewNew}>
        {words.tonight.brewOwn}
      </Button>
    </>
  );
}

function Learned({ view }: { view: PracticeView }) {
  return (
    <>
      {view.pair && <Confused pair={view.pair} />}
      {view.first && view.tasted && (
        <p class="row apart practice-line">
          <span>{practice.changed(view.both)}</span>
          <strong>{words.flights.tastingBoth(formatFactor(view.first), formatFactor(view.tasted))}</strong>
        </p>
      )}
      {view.private && <p class="small soft">{practice.private}</p>}
      {view.pending > 0 && <p class="small soft">{practice.pending(view.pending)}</p>}
      <section class="stack close">
        <h2>{practice.results}</h2>
        <ul class="list">
          {view.results.map((line) => (
            <li key={line.sample}>
              <ResultRow line={line} />
            </li>
          ))}
        </ul>
      </section>
    </>
  );
}

/** One pair that was taken for each other: what was written, what was said, what it was. */
function Confused({ pair }: { pair: ConfusedPair }) {
  const rows: [string, (line: PracticeLine) => string][] = [
    [practice.wrote, (line) => line.notes],
    [practice.said, (line) => names(line.said)],
    [practice.was, (line) => names(line.was)],
  ];
  return (
    <section class="stack close">
      <p class="title">{practice.pair(pair.wasName, pair.saidName)}</p>
      <p class="small soft">{practice.pairCount(pair.times, pair.of)}</p>
      <Sideways label={practice.pair(pair.wasName, pair.saidName)}>
        <table class="practice-table">
          <thead>
            <tr>
              <td />
              {pair.cups.map((cup) => (
                <th key={cup.sample} scope="col">
                  {formatCode(cup.code)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(([label, value]) => (
              <tr key={label}>
                <th scope="row">{label}</th>
                {pair.cups.map((cup) => (
                  <td key={cup.sample}>{value(cup)}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </Sideways>
    </section>
  );
}

const names = (nodes: PracticeLine["was"]) => nodes.map((node) => node.name).join(", ");

function ResultRow({ line }: { line: PracticeLine }) {
  return (
    <a class="list-row" href={paths.result(line.club, line.sample)}>
      <span class="grow">
        <strong>{formatCode(line.code)}</strong> {names(line.was)}
        <br />
        <span class="small soft">{line.said.length > 0 ? practice.youSaid(names(line.said)) : words.tableStatus[line.status]}</span>
      </span>
      <strong>{line.score ? formatFactor(line.score) : ""}</strong>
      <OnwardIcon />
    </a>
  );
}
