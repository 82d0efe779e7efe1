// The first screen: the sample on the table, what is left of it, when it closes, one button; below it what runs or cools.

import type { First, OpenedSample, TonightSample, TonightView } from "../gen/types.ts";
import { useMinute, useSecond } from "../model/clock.ts";
import { useClubTime } from "../model/clubtime.ts";
import { lastSaid, useView, workerState } from "../model/core.ts";
import { formatCode, goingRows } from "../model/going.ts";
import { formatNumber } from "../model/numbers.ts";
import { formatWeight } from "../model/units.ts";
import { updateReady, takeUpdate } from "../model/offline.ts";
import { formatDistance, formatMoment } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { declaredWords } from "../parts/declared/declared.ts";
import { BlindCode, SealMark, SealedEnvelope } from "../parts/envelope/envelope.tsx";
import { OnwardIcon } from "../parts/icons/icons.tsx";
import { Page } from "../parts/page/page.tsx";
import { StatusLine } from "../parts/status/status.tsx";
import { RunningRow } from "../parts/strip/strip.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { sitting, tonight } from "../words.ts";
import { JoiningList } from "./enter.tsx";
import { stepPath } from "./sittingline.tsx";

export function Tonight() {
  const seen = useView("tonight");
  // before the core has spoken: a brew that began since this screen was left is known to the Bench, which every other one watches
  const view = seen.value && !seen.fresh ? { ...seen.value, going: lastSaid("bench")?.going ?? seen.value.going } : seen.value;
  return (
    <Page title={tonight.title}>
      {workerState.value === "restarted" && <StatusLine>{words.shell.restarted}</StatusLine>}
      {view ? <Table view={view} /> : <p class="soft">{words.shell.starting}</p>}
    </Page>
  );
}

function Table({ view }: { view: TonightView }) {
  const now = useSecond(view.going.length > 0);
  const quiet = !view.going.some((each) => each.what === "brewing");
  return (
    <>
      <Main view={view} />
      {view.opened.slice(view.sample ? 0 : 1).map((sample) => (
        <Opened key={sample.sample} sample={sample} />
      ))}
      {goingRows(view.going, now).map((brew) => (
        <RunningRow key={brew.href} brew={brew} />
      ))}
      {view.more > 0 && (
        <a class="list-row" href={paths.flights}>
          <span class="grow">{tonight.more(view.more)}</span>
          <OnwardIcon />
        </a>
      )}
      <JoiningList joining={view.joining} />
      <Firsts firsts={view.firsts} />
      {updateReady.value && quiet && (
        <section class="stack close">
          <h2>{words.shell.update}</h2>
          <p class="small soft">{words.shell.updateText}</p>
          <Button onPress={takeUpdate}>{words.shell.updateNow}</Button>
        </section>
      )}
    </>
  );
}

/** One thing that matters most: what waits for me, else what was opened and not looked at, else my own coffee. */
function Main({ view }: { view: TonightView }) {
  const [opened] = view.opened;
  if (view.sample) return <OnTheTable sample={view.sample} />;
  if (opened) return <JustOpened sample={opened} />;
  return <NothingOnIt view={view} />;
}

/** The flap stays closed until it is tapped. */
function JustOpened({ sample }: { sample: OpenedSample }) {
  return (
    <>
      <SealedEnvelope code={<BlindCode code={sample.code} />}>{tonight.openedFrom(sample.title)}</SealedEnvelope>
      {sample.asks && <p class="soft">{tonight.openedAsks}</p>}
      <Button kind="primary" href={paths.result(sample.club, sample.sample)}>
        {tonight.nextStep[sample.asks ? "ask" : "result"]}
      </Button>
      <Button href={paths.brewNew}>{tonight.brewOwn}</Button>
    </>
  );
}

function OnTheTable({ sample }: { sample: TonightSample }) {
  const now = useMinute();
  const { toPhone } = useClubTime();
  const closes = toPhone(sample.closes);
  return (
    <>
      <SealedEnvelope code={<BlindCode code={sample.code} />}>{tonight.placeOf(sample.place, sample.of, sample.title)}</SealedEnvelope>
      <dl class="facts">
        <dt>{tonight.left}</dt>
        <dd>{attempts(sample)}</dd>
        <dt>{tonight.closes}</dt>
        <dd>{sample.closes ? `${formatMoment(closes, now)}, ${formatDistance(closes, now)}` : tonight.closesByHand}</dd>
        <dt>{tonight.declared}</dt>
        <dd>{declaredWords(sample.declared, sample.declaredReadable)}</dd>
      </dl>
      <NextStep sample={sample} />
    </>
  );
}

/** 38 g: two brews, and 8 g to taste again knowing; without a dose to count with, the grams. */
function attempts({ left, grams, ration }: TonightSample): string {
  if (!ration) return tonight.leftOf(formatNumber(left, 1), formatNumber(grams, 1));
  const over = ration.attempts > 0 && ration.over >= LEAST_OVER ? sitting.attemptsOver(formatWeight(Math.floor(ration.over))) : "";
  return sitting.attempts(formatWeight(left), ration.attempts) + over;
}

/** Less than this is crumbs, not a portion. */
const LEAST_OVER = 3;

/** A sitting goes on where it was left; everything else has its own next thing. */
function NextStep({ sample }: { sample: TonightSample }) {
  const seen = sample.sitting;
  const sits = sample.next === "look" || sample.next === "brew" || sample.next === "guess";
  if (!sits || !seen || seen.out) {
    return (
      <Button kind="primary" href={nextPath(sample)}>
        {tonight.nextStep[sample.next]}
      </Button>
    );
  }
  const begun = seen.done.length > 0 || seen.at !== "look";
  return (
    <Button kind="primary" href={begun ? stepPath(seen, seen.at) : paths.sample(sample.club, sample.sample)}>
      {begun ? sitting.onWith[seen.at] : tonight.nextStep.look}
    </Button>
  );
}

function nextPath({ club, sample, next }: TonightSample): string {
  switch (next) {
    case "brew":
      return paths.brewOf(club, sample);
    case "guess":
    case "revise":
      return paths.guess(club, sample);
    case "result":
      return paths.result(club, sample);
    default:
      return paths.sample(club, sample);
  }
}

function Opened({ sample }: { sample: OpenedSample }) {
  return (
    <a class="list-row card" href={paths.result(sample.club, sample.sample)}>
      <SealMark open={!sample.asks} />
      <span class="grow">
        <strong>{tonight.opened(formatCode(sample.code))}</strong>
        <br />
        <span class="small soft">{sample.asks ? tonight.openedAsks : tonight.openedLook}</span>
      </span>
      <OnwardIcon />
    </a>
  );
}

function NothingOnIt({ view }: { view: TonightView }) {
  return (
    <>
      <div class="stack close">
        <p class="title">{tonight.none}</p>
        <p class="soft">{tonight.noneText}</p>
      </div>
      <Button kind="primary" href={paths.brewNew}>
        {view.last ? sitting.brewLast(view.last) : tonight.brewOwn}
      </Button>
      {view.clubs === 0 && view.firsts.length === 0 && <Button href={paths.enter}>{words.club.enter}</Button>}
    </>
  );
}

const firstPaths: { [first in First]: string } = {
  name: paths.you,
  club: paths.clubs,
  kitchen: paths.cupboard,
  "practice-cup": paths.brewNew,
  recovery: paths.recovery,
};

function Firsts({ firsts }: { firsts: First[] }) {
  if (firsts.length === 0) return null;
  return (
    <section class="stack close">
      <h2>{tonight.firsts}</h2>
      <ul class="list">
        {firsts.map((first) => (
          <li key={first}>
            <a class="list-row" href={firstPaths[first]}>
              <span class="grow">
                {tonight.first[first][0]}
                <br />
                <span class="small soft">{tonight.first[first][1]}</span>
              </span>
              <OnwardIcon />
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}
