// An opened sample: first the group's guesses, then the answer, then what each person saw. Nothing opens by itself for who
// has not guessed.

import type { ResultView, TableLine, TruthNode } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import { formatCode } from "../model/going.ts";
import { costSentence } from "../model/cost.ts";
import { formatFactor, formatShare } from "../model/numbers.ts";
import { useClubTime } from "../model/clubtime.ts";
import { go, type Params } from "../model/router.ts";
import { formatHour } from "../model/times.ts";
import { BeanChart, type BeanRow } from "../parts/beans/beans.tsx";
import { BeliefRow } from "../parts/belief/belief.tsx";
import { Button } from "../parts/button/button.tsx";
import { BlindCode, OpenEnvelope, SealedEnvelope } from "../parts/envelope/envelope.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Sideways } from "../parts/sideways/sideways.tsx";
import { Problem, StatusLine, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { flights } from "../words.ts";
import { AnswerFacts, heights } from "./answer.tsx";
import { brewFacts } from "./bench.tsx";
import { TableNoticed } from "./sittingwords.tsx";
import "./result.css";

export function Result({ params }: { params: Params }) {
  const club = params.club ?? "";
  const sample = params.sample ?? "";
  const seen = useView("result", { club, sample });
  return (
    <Shown seen={seen} title={flights.title} above={paths.flights}>
      {(view) => <Stage view={view} />}
    </Shown>
  );
}

function Stage({ view }: { view: ResultView }) {
  switch (view.state) {
    case "open":
      return <Open view={view} />;
    case "asks":
    case "kept":
      return <Ask view={view} />;
    default: {
      const away = view.standing === "removed" ? flights.away.removed : flights.away.out;
      const text = { sealed: flights.stillSealed, away, reading: flights.reading, unreadable: flights.unreadable }[view.state];
      return (
        <Page title={flights.sampleTitle(formatCode(view.code))} above={paths.flight(view.club, view.flight)} standing={view.standing}>
          <StatusLine>{text}</StatusLine>
          <Button href={paths.sample(view.club, view.sample)}>{flights.sampleTitle(formatCode(view.code))}</Button>
        </Page>
      );
    }
  }
}

/** "Keep 417 closed for me?" */
function Ask({ view }: { view: ResultView }) {
  const { club, sample } = view;
  const code = formatCode(view.code);
  const doing = useDoing();
  const kept = view.state === "kept";
  const keep = (wanted: boolean) =>
    doing.run(async () => {
      await command("sample.keep", { club, sample, keep: wanted });
      if (wanted) go(paths.sample(club, sample), "replace");
    });
  return (
    <Page
      title={kept ? flights.keptTitle : flights.askTitle(code)}
      above={paths.flight(club, view.flight)}
      action={
        <>
          <Problem refusal={doing.refusal} />
          <div class="pair">
            {kept ? (
              <Button href={paths.sample(club, sample)}>{flights.keepClosed}</Button>
            ) : (
              <Button busy={doing.busy} onPress={() => void keep(true)}>
                {flights.keepClosed}
              </Button>
            )}
            <Button busy={doing.busy} onPress={() => void keep(false)}>
              {flights.lookNow}
            </Button>
          </div>
        </>
      }
    >
      <SealedEnvelope code={<BlindCode code={view.code} />}>{view.title}</SealedEnvelope>
      {view.closedHow === "opened-early" && <StatusLine>{flights.openedEarly}</StatusLine>}
      <p>{flights.askText}</p>
    </Page>
  );
}

function Open({ view }: { view: ResultView }) {
  const { toPhone } = useClubTime();
  const early = view.closedHow === "opened-early" ? `, ${words.closedHow["opened-early"]}` : "";
  return (
    <Page
      title={flights.resultTitle(formatCode(view.code))}
      above={paths.flight(view.club, view.flight)}
      standing={view.standing}
      aside={[view.title, view.opened ? formatHour(toPhone(view.opened)) : ""].filter(Boolean).join(", ") + early}
    >
      <OpenEnvelope>
        <Truth view={view} />
      </OpenEnvelope>
      {view.closedHow === "opened-early" && <StatusLine>{flights.openedEarly}</StatusLine>}
      <Mine view={view} />
      <Table view={view} />
      <Guesses view={view} />
      <Pool view={view} />
      <Notes view={view} />
      <TableNoticed noticed={view.noticed} />
      {view.answer && (
        <section class="stack close">
          <h2>{flights.wholeAnswer}</h2>
          <AnswerFacts answer={view.answer} />
        </section>
      )}
      <Button kind="quiet" href={paths.about}>
        {flights.counted}
      </Button>
    </Page>
  );
}

/** Where from in large, the rest in one line. */
function Truth({ view }: { view: ResultView }) {
  const origin = view.truth.find((each) => each.facet === "origin");
  const others = view.truth.filter((each) => each.facet !== "origin");
  const name = (names: string[], single: boolean) => (single ? (names.at(-1) ?? "") : names.join(", "));
  const heightOf = ({ facet }: TruthNode) => (facet === "altitude" && view.answer ? heights(view.answer) : ""); // says more than its band
  return (
    <>
      <p class="title">{origin ? origin.names.slice(origin.nodes.length === 1 ? -2 : 0).join(", ") : view.answer?.lot || flights.notStated}</p>
      <p>{others.map((each) => (heightOf(each) || name(each.names, each.nodes.length === 1)) + (each.scored ? "" : ` (${flights.notScored})`)).join(" · ")}</p>
    </>
  );
}

function Mine({ view }: { view: ResultView }) {
  const me = view.table.find((line) => line.me);
  if (!view.mine) {
    const why = me?.status === "reading" ? flights.guessReading : me?.status === "holder" ? flights.holderScore : me?.status === "late" ? flights.lateScore : flights.noScore;
    return <p class="centre soft">{why}</p>;
  }
  return (
    <section class="stack close">
      {me?.status === "late" && <p>{`${flights.lateScore} ${flights.lateWouldBe}`}</p>}
      <p class="centre">
        <strong class="result-factor">{formatFactor(view.mine)}</strong>
        <br />
        {flights.against}
      </p>
      <Sideways label={flights.lines}>
        <table class="result-lines">
          <caption class="unseen">{flights.lines}</caption>
          <tbody>
            {view.lines.map((line) => (
              <tr key={`${line.facet} ${line.node}`}>
                <th scope="row">
                  {line.right ? flights.lineRight(words.level[line.level]) : flights.lineWrong(words.level[line.level])}
                  <span class="small soft"> {line.name}</span>
                </th>
                <td class="small soft">{flights.you(formatShare(line.mine))}</td>
                <td>
                  <strong>{formatFactor(line.factor)}</strong>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </Sideways>
      {view.cost && <p>{costSentence(view.cost)}</p>}
      {view.first && (
        <p class="row apart">
          <span>{flights.tasting}</span>
          <strong>{flights.tastingBoth(formatFactor(view.first), formatFactor(view.mine))}</strong>
        </p>
      )}
    </section>
  );
}

function Table({ view }: { view: ResultView }) {
  const rows: BeanRow[] = view.table.map((line) => ({
    name: nameOf(line),
    score: line.score,
    ...(line.status !== "scored" && { note: words.tableStatus[line.status] }),
    own: line.me,
  }));
  if (view.together) rows.push({ name: flights.together, score: view.together, together: true });
  return <BeanChart caption={flights.table} rows={rows} />;
}

const nameOf = (line: { me?: boolean; name: string }) => (line.me ? words.common.you : line.name || words.common.unnamed);

function Guesses({ view }: { view: ResultView }) {
  const lines = view.table.filter((line) => line.top.length > 0);
  if (lines.length === 0) return null;
  return (
    <section class="stack close">
      <h2>{flights.tableGuesses}</h2>
      <ul class="list">
        {lines.map((line) => (
          <li key={line.member} class="result-guess">
            <strong>{nameOf(line)}</strong>
            <span>{topWords(line)}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function topWords(line: TableLine) {
  return line.top.map((top, i) => (
    <span key={top.facet}>
      {i > 0 && ", "}
      {top.right ? <strong>{flights.thoughtAt(top.name, formatShare(top.share))}</strong> : flights.thoughtAt(top.name, formatShare(top.share))}
      {top.right && <span class="unseen"> ({flights.rightMark})</span>}
    </span>
  ));
}

/** The even pool of all guesses: the top of each tree, and what is under the truth. */
function Pool({ view }: { view: ResultView }) {
  const truths = new Set(view.truth.flatMap((each) => each.nodes));
  if (view.pool.length === 0) return null;
  return (
    <details class="fold">
      <summary>{flights.poolTitle}</summary>
      <p class="small soft">{flights.poolHint}</p>
      {view.pool
        .filter((question) => question.asked)
        .map((question) => (
          <table key={question.facet}>
            <caption class="fold-caption">{words.facet[question.facet]}</caption>
            <tbody>
              {question.nodes
                .filter((node) => node.parent === "" || node.think >= 300 || truths.has(node.node))
                .map((node) => (
                  <BeliefRow key={node.node} name={node.name} level={node.depth} before={node.before} now={node.think} truth={truths.has(node.node)} />
                ))}
            </tbody>
          </table>
        ))}
    </details>
  );
}

function Notes({ view }: { view: ResultView }) {
  if (view.brews.length === 0) return null;
  return (
    <section class="stack close">
      <h2>{flights.notesTitle}</h2>
      <ul class="list">
        {view.brews.map((each) => (
          <li key={each.member + each.brew.brew} class="result-guess">
            <strong>{each.name || words.common.unnamed}</strong>
            <span class="small soft">{brewFacts(each.brew)}</span>
            {each.notes && <span class="result-notes">{each.notes}</span>}
          </li>
        ))}
      </ul>
    </section>
  );
}
