// The guess: what one thinks, in shares, question by question. The core keeps every number coherent; this draws it, and sends
// what was said.

import { useState } from "preact/hooks";
import type { GuessQuestion, GuessView } from "../gen/types.ts";
import { useMinute } from "../model/clock.ts";
import { useClubTime } from "../model/clubtime.ts";
import { command, useView } from "../model/core.ts";
import { formatCode } from "../model/going.ts";
import { useGuessDraft } from "../model/guessdraft.ts";
import { formatFactor } from "../model/numbers.ts";
import { go, type Params } from "../model/router.ts";
import { guessState } from "../model/share.ts";
import { formatMoment } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Problem, StatusLine, useDoing } from "../parts/status/status.tsx";
import { SyncMark } from "../parts/sync/sync.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { guess } from "../words.ts";
import { SittingLine } from "./sittingline.tsx";
import { GuessTree } from "./guesstree.tsx";
import "./guess.css";

export function Guess({ params }: { params: Params }) {
  return <Sheet club={params.club ?? ""} sample={params.sample ?? ""} first={false} />;
}

/** By eye and nose, before brewing: ten seconds, kept as it is. */
export function Look({ params }: { params: Params }) {
  return <Sheet club={params.club ?? ""} sample={params.sample ?? ""} first />;
}

function Sheet({ club, sample, first }: { club: string; sample: string; first: boolean }) {
  const seen = useView("guess", { club, sample, first });
  return (
    <Shown seen={seen} title={words.flights.yourGuess} above={paths.sample(club, sample)}>
      {(view) => (view.pinned === "waiting" ? <Waiting view={view} /> : <Open view={view} first={first} />)}
    </Shown>
  );
}

function Waiting({ view }: { view: GuessView }) {
  return (
    <Page title={words.flights.sampleTitle(formatCode(view.code))} above={paths.sample(view.club, view.sample)}>
      <StatusLine>{guess.waiting}</StatusLine>
    </Page>
  );
}

function Open({ view, first }: { view: GuessView; first: boolean }) {
  const draft = useGuessDraft(view, first);
  const [at, setAt] = useState(0);
  const [all, setAll] = useState(false);
  const doing = useDoing();
  const shown = draft.shown;
  const questions = shown.questions.filter((question) => question.asked || all);
  const question = questions[Math.min(at, questions.length - 1)];
  const next = questions[at + 1];
  const code = formatCode(view.code);
  const { club, sample } = view;

  const seal = () =>
    doing.run(async () => {
      await command("guess.save", { club, sample, first, facets: draft.facets });
      draft.forget();
      go(paths.sample(club, sample));
    });
  const onward = () => {
    setAt(at + 1);
    scrollTo(0, 0);
  };

  return (
    <Page
      title={first ? guess.firstTitle(code) : question ? guess.title(code, words.question[question.facet]) : code}
      above={paths.sample(club, sample)}
      action={
        view.may && (
          <>
            <Problem refusal={doing.refusal ?? draft.refusal} />
            {next ? (
              <div class="pair">
                <Button onPress={onward}>{guess.next(words.facet[next.facet])}</Button>
                <Button disabled={draft.refusal !== undefined} busy={doing.busy} onPress={() => void seal()}>
                  {first ? guess.sealFirst : guess.seal}
                </Button>
              </div>
            ) : (
              <Button kind="primary" disabled={draft.refusal !== undefined} busy={doing.busy} onPress={() => void seal()}>
                {first ? guess.sealFirst : guess.seal}
              </Button>
            )}
            <Until view={view} first={first} />
          </>
        )
      }
    >
      <SittingLine club={club} sample={sample} at={first ? "smell" : "guess"} />
      <State view={view} first={first} changed={draft.changed} />
      <Questions questions={shown.questions} shown={questions} at={at} onAt={setAt} all={all} onAll={() => setAll(true)} />
      <p class="small soft">{first ? guess.firstIntro : guess.pencil}</p>
      {question && <GuessTree key={question.facet} question={question} may={view.may} onSay={(node, share) => draft.say(question.facet, node, share)} />}
      {question && !first && <Preview question={question} />}
    </Page>
  );
}

function State({ view, first, changed }: { view: GuessView; first: boolean; changed: boolean }) {
  return (
    <p class="row" role="status">
      {view.guess.holder && <span>{guess.unseen}</span>}
      {!first && view.guess.made && <SyncMark {...guessState(view.guess)} />}
      {changed && <span class="small">{guess.unsaved}</span>}
      {!view.may && <span>{guess.cannot}</span>}
    </p>
  );
}

function Until({ view, first }: { view: GuessView; first: boolean }) {
  const now = useMinute();
  const { toPhone } = useClubTime();
  if (first) return null;
  if (view.state !== "open") return <p class="small">{guess.isLate}</p>;
  return <p class="small">{view.closes ? guess.canChange(formatMoment(toPhone(view.closes), now)) : guess.canChangeByHand}</p>;
}

interface QuestionsProps {
  questions: readonly GuessQuestion[];
  shown: readonly GuessQuestion[];
  at: number;
  onAt(at: number): void;
  all: boolean;
  onAll(): void;
}

function Questions({ questions, shown, at, onAt, all, onAll }: QuestionsProps) {
  const more = !all && questions.some((question) => !question.asked);
  return (
    <div class="guess-questions" role="group" aria-label={guess.questions}>
      {shown.map((question, i) => (
        <Button key={question.facet} pressed={i === at} onPress={() => onAt(i)}>
          {said(question) && <span class="guess-said" aria-label={guess.said} role="img" />}
          {words.facet[question.facet]}
        </Button>
      ))}
      {more && (
        <Button kind="quiet" onPress={onAll}>
          {guess.others}
        </Button>
      )}
    </div>
  );
}

const said = (question: GuessQuestion) => question.nodes.some((node) => node.said >= 0);

/** What this would bring: when it is right, near, far off. */
function Preview({ question }: { question: GuessQuestion }) {
  const { preview } = question;
  if (!preview) return <p class="small soft centre">{guess.asIs}</p>;
  const name = question.nodes.find((node) => node.node === preview.node)?.name ?? "";
  return (
    <section class="stack close">
      <dl class="guess-preview">
        {(["hit", "near", "far"] as const).map((which) => (
          <div key={which}>
            <dt>{guess[which]}</dt>
            <dd>{formatFactor(preview[which])}</dd>
          </div>
        ))}
      </dl>
      <p class="small soft centre">{guess.preview(formatFactor(preview.hit), name)}</p>
    </section>
  );
}
