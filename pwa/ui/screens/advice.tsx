// What to change next: one variable, one step, what it should do, and why; or that it can't be told yet.

import type { AdviceView, Expected } from "../gen/types.ts";
import { useView } from "../model/core.ts";
import { propose } from "../model/draft.ts";
import { formatNumber } from "../model/numbers.ts";
import { formatExpected } from "../model/quantities.ts";
import { formatTemperature, formatWeight } from "../model/units.ts";
import { go, type Params } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Sideways } from "../parts/sideways/sideways.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { log } from "../words.ts";
import { reasonSentence } from "../words/log.ts";
import { brewTitle } from "./brew.tsx";
import "./lookback.css";

export function Advice({ params }: { params: Params }) {
  const asked = { book: params.book ?? "", brew: params.brew ?? "" };
  const above = paths.brew(asked.book, asked.brew);
  const seen = useView("advice", asked);
  const brew = useView("brew", asked).value;
  const aside = brew && log.adviceOf(brewTitle(brew));
  return (
    <Shown seen={seen} title={log.advice} above={above}>
      {(view) => (
        <Page title={log.advice} above={above} {...(aside && { aside })} action={<Do view={view} asked={asked} />}>
          {view.ready ? <Told view={view} /> : <p class="soft">{log.judging}</p>}
        </Page>
      )}
    </Shown>
  );
}

/** What there is to do about it. */
function Do({ view, asked }: { view: AdviceView; asked: { book: string; brew: string } }) {
  const { setup, base } = view;
  if (!view.ready) return null;
  if (view.verdict === "keep") {
    return (
      <Button kind="primary" href={paths.brewAgain(base.book, base.brew)}>
        {log.brewAgain}
      </Button>
    );
  }
  if (!setup) {
    return view.verdict === "few" ? (
      <Button kind="primary" href={paths.brewNote(asked.book, asked.brew)}>
        {log.noteIt}
      </Button>
    ) : null;
  }
  const brewIt = () => {
    propose({ setup, parent: base });
    go(paths.brewAgain(base.book, base.brew));
  };
  return (
    <Button kind="primary" onPress={brewIt}>
      {log.brewSo}
    </Button>
  );
}

function Told({ view }: { view: AdviceView }) {
  const { verdict, setup, variable, better, reasons, left, base } = view;
  const change = verdict === "change";
  return (
    <>
      <p class={change ? "" : "title"}>{words.advice[verdict]}</p>
      {setup && variable && (
        <section class="stack close advice-change">
          {!change && <h2>{log.teach}</h2>}
          <p class="soft">{words.variable[variable]}</p>
          <p class="title">{words.bench.fromTo(side(view, view.from, view.fromName), side(view, view.to, view.toName))}</p>
          {change && <p>{log.better(formatNumber(Math.min(99, better), 0))}</p>}
        </section>
      )}
      <section class="stack close">
        <h2>{log.why}</h2>
        <ul class="points">
          {reasons.map((reason, i) => (
            <li key={i}>{reasonSentence("response", reason)}</li>
          ))}
        </ul>
      </section>
      {setup && <Effects view={view} />}
      {left && (
        <p>
          {log.left(left.attempts, formatWeight(left.left), formatWeight(left.each))} {left.kept > 0 && words.bench.kept(formatWeight(left.kept))}
        </p>
      )}
      {base.brew && <Button href={paths.brew(base.book, base.brew)}>{setup ? log.base : log.best}</Button>}
    </>
  );
}

const units: { [variable: string]: (value: number) => string } = {
  ratio: (value) => log.ratioLine(formatNumber(value, 1)),
  temperature: formatTemperature,
  agitation: (value) => words.bench.times(words.variable.agitation, Math.round(value)),
};

const side = ({ variable }: AdviceView, value: number, name: string) => name || (units[variable]?.(value) ?? formatNumber(value, 1));

function Effects({ view }: { view: AdviceView }) {
  const rows: Expected[] = [...view.balance, ...[view.seconds, view.tds, view.ey].filter((row) => row !== undefined)];
  const range = (of: Expected["of"], { low, high }: Expected["next"]) => `${formatExpected(of, low)} … ${formatExpected(of, high)}`;
  return (
    <section class="stack close">
      <h2>{log.expected}</h2>
      <Sideways label={log.expected}>
        <table class="marks whole">
          <thead>
            <tr>
              <th scope="col">{words.bench.table.what}</th>
              <th scope="col">{log.now}</th>
              <th scope="col">{log.next}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.of}>
                <th scope="row">{words.quantity[row.of]}</th>
                <td>{formatExpected(row.of, row.before.value)}</td>
                <td>
                  <strong>{formatExpected(row.of, row.next.value)}</strong> <span class="small soft">{range(row.of, row.next)}</span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </Sideways>
      <p class="small soft">{log.ninety}</p>
    </section>
  );
}
