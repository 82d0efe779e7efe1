// The sitting: one sample from the closed bag to the open answer, in one flow, so that nobody hunts for the next screen.

import type { Member, SampleView } from "../gen/types.ts";
import { useMinute } from "../model/clock.ts";
import { useClubTime } from "../model/clubtime.ts";
import { command, useView } from "../model/core.ts";
import { formatCode } from "../model/going.ts";
import { formatNumber } from "../model/numbers.ts";
import { go, type Params } from "../model/router.ts";
import { guessState } from "../model/share.ts";
import { formatDistance, formatMoment } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { declaredWords, needsCare } from "../parts/declared/declared.ts";
import { Away } from "../parts/away/away.tsx";
import { BlindCode, SealedEnvelope } from "../parts/envelope/envelope.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Care, StatusLine } from "../parts/status/status.tsx";
import { Steps } from "../parts/steps/steps.tsx";
import { Sure } from "../parts/sure/sure.tsx";
import { SyncMark } from "../parts/sync/sync.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { flights } from "../words.ts";
import { AnswerFacts } from "./answer.tsx";
import { BrewList } from "./bench.tsx";
import { SittingLine, stepPath } from "./sittingline.tsx";
import { NoticedList } from "./sittingwords.tsx";

export function Sample({ params }: { params: Params }) {
  const seen = useView("sample", { club: params.club ?? "", sample: params.sample ?? "" });
  return (
    <Shown seen={seen} title={flights.title} above={paths.flights}>
      {(view) => <Sitting view={view} />}
    </Shown>
  );
}

function Sitting({ view }: { view: SampleView }) {
  const code = formatCode(view.code);
  const care = needsCare(view.declared, view.declaredReadable);
  return (
    <Page title={flights.sampleTitle(code)} above={paths.flight(view.club, view.flight)} action={<NextAction view={view} />} standing={view.standing}>
      <Away standing={view.standing} />
      <SealedEnvelope code={<BlindCode code={view.code} />}>
        {words.tonight.placeOf(view.place, view.of, view.title)}
      </SealedEnvelope>
      {view.state === "open" ? <SittingLine club={view.club} sample={view.sample} /> : <Steps at={stepOf(view)} names={Object.values(flights.steps)} />}
      {care && (
        <Care title={flights.careTitle}>
          <p>{declaredWords(view.declared, view.declaredReadable)}</p>
          <p class="small">{words.bench.grinderShared}</p>
        </Care>
      )}
      <Facts view={view} />
      {view.guess.holder && <p>{flights.youHold}</p>}
      {view.intention && <StatusLine>{flights.unsealIntention}</StatusLine>}
      {view.sealed && (
        <section class="stack close">
          <h2>{flights.yourAnswer}</h2>
          <AnswerFacts answer={view.sealed} />
        </section>
      )}
      <Noticed view={view} />
      <section class="stack close">
        <h2>{flights.brews}</h2>
        {view.brews.length === 0 ? <p class="soft">{flights.noBrews}</p> : <BrewList brews={view.brews} />}
        {view.may.includes("brew") && <Button kind={view.brews.length > 0 ? "plain" : "quiet"} href={paths.brewOf(view.club, view.sample)}>{flights.brewIt}</Button>}
      </section>
      <Deeds view={view} />
    </Page>
  );
}

function Noticed({ view }: { view: SampleView }) {
  const stages = useView("noticed", { club: view.club, sample: view.sample, book: "", brew: "" }).value?.stages ?? [];
  return <NoticedList stages={stages} />;
}

/** Once the sitting is over it is closed, and open. */
const stepOf = (view: SampleView): number => (view.state === "unsealed" ? 4 : 3);

function NextAction({ view }: { view: SampleView }) {
  const { club, sample } = view;
  const primary = (href: string, label: string) => (
    <Button kind="primary" href={href}>
      {label}
    </Button>
  );
  switch (view.next) {
    case "look":
    case "brew":
    case "guess":
      return <GoesOn view={view} />;
    case "revise":
      return primary(paths.guess(club, sample), flights.reviseIt);
    case "kept":
      return primary(paths.guess(club, sample), view.guess.made ? flights.reviseIt : flights.guessIt);
    case "ask":
    case "result":
      return primary(paths.result(club, sample), words.tonight.nextStep[view.next]);
    default:
      return view.may.includes("guess") ? primary(paths.guess(club, sample), view.guess.made ? flights.reviseIt : flights.guessIt) : null;
  }
}

/** The next step of the sitting; the guess, where there is none. */
function GoesOn({ view }: { view: SampleView }) {
  const seen = useView("sitting", { club: view.club, sample: view.sample }).value;
  if (!seen) return null;
  const step = seen.out ? "guess" : seen.at;
  return (
    <Button kind="primary" href={stepPath(seen, step)}>
      {words.sitting.onWith[step]}
    </Button>
  );
}

function Facts({ view }: { view: SampleView }) {
  const now = useMinute();
  const { toPhone } = useClubTime();
  const closes = toPhone(view.closes);
  return (
    <dl class="facts">
      <dt>{flights.facts.left}</dt>
      <dd>{words.tonight.leftOf(formatNumber(view.left, 1), formatNumber(view.grams, 1))}</dd>
      <dt>{view.closedHow ? flights.facts.closed : flights.facts.closes}</dt>
      <dd>
        {view.closedHow
          ? words.closedHow[view.closedHow]
          : view.closes
            ? `${formatMoment(closes, now)}, ${formatDistance(closes, now)}`
            : words.tonight.closesByHand}
      </dd>
      <dt>{flights.facts.declared}</dt>
      <dd>{declaredWords(view.declared, view.declaredReadable)}</dd>
      <dt>{flights.facts.keeper}</dt>
      <dd>{[view.keeper, ...view.holders.filter((each) => each.member !== view.keeper.member)].map(nameOf).join(", ")}</dd>
      <dt>{flights.facts.guesses}</dt>
      <dd>{flights.guessCount(view.guessed)}</dd>
      {!view.guess.holder && (
        <>
          <dt>{flights.yourGuess}</dt>
          <dd>{view.guess.made ? <SyncMark {...guessState(view.guess)} /> : flights.noGuess}</dd>
        </>
      )}
    </dl>
  );
}

const nameOf = (member: Member) => (member.me ? words.common.you : member.name || words.common.unnamed);

function Deeds({ view }: { view: SampleView }) {
  const { club, flight, sample } = view;
  const code = formatCode(view.code);
  const unseal = async () => {
    await command("sample.unseal", { club, samples: [sample], close: view.state === "open" });
    go(paths.flight(club, flight));
  };
  return (
    <div class="stack close">
      {view.may.includes("first") && !view.guess.made && view.brews.length === 0 && <Button kind="quiet" href={paths.look(club, sample)}>{flights.lookIt}</Button>}
      {view.may.includes("guess") && (view.next === "look" || view.next === "brew" || view.next === "guess") && <Button kind="quiet" href={paths.guess(club, sample)}>{flights.guessIt}</Button>}
      {view.next === "kept" && <Button href={paths.result(club, sample)}>{words.tonight.nextStep.kept}</Button>}
      {view.may.includes("close") && (
        <Sure label={flights.closeSample(code)} question={flights.closeSure} onYes={() => command("flight.close", { club, flight, samples: [sample] })} />
      )}
      {view.may.includes("unseal") && !view.intention && (
        <Sure label={flights.unsealSample(code)} question={view.state === "open" ? flights.unsealOpenSure : flights.unsealSure} onYes={unseal} />
      )}
    </div>
  );
}
