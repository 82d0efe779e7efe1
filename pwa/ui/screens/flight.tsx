// A flight: its samples, who has guessed (not what), and for who may, the close and the unsealing.

import type { Facet, FlightView, Member, SampleLine } from "../gen/types.ts";
import { useMinute } from "../model/clock.ts";
import { useClubTime } from "../model/clubtime.ts";
import { command, useView } from "../model/core.ts";
import { formatCode } from "../model/going.ts";
import { formatFactor } from "../model/numbers.ts";
import type { Params } from "../model/router.ts";
import { guessState, shareState } from "../model/share.ts";
import { Button } from "../parts/button/button.tsx";
import { Away } from "../parts/away/away.tsx";
import { BlindCode, SealMark } from "../parts/envelope/envelope.tsx";
import { OnwardIcon } from "../parts/icons/icons.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Sideways } from "../parts/sideways/sideways.tsx";
import { StatusLine } from "../parts/status/status.tsx";
import { Sure } from "../parts/sure/sure.tsx";
import { SyncMark } from "../parts/sync/sync.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { flights } from "../words.ts";
import { whenOf } from "./flights.tsx";
import { nodeName, useAtlas } from "../model/atlas.ts";
import "./flight.css";

export function Flight({ params }: { params: Params }) {
  const seen = useView("flight", { club: params.club ?? "", flight: params.flight ?? "" });
  return (
    <Shown seen={seen} title={flights.title} above={paths.flights}>
      {(view) => <Open view={view} />}
    </Shown>
  );
}

function Open({ view }: { view: FlightView }) {
  const now = useMinute();
  const { toPhone } = useClubTime();
  const atlas = useAtlas();
  const may = (what: FlightView["may"][number]) => view.may.includes(what);
  return (
    <Page
      title={view.title || words.common.unnamed}
      above={paths.flights}
      standing={view.standing}
      aside={`${view.clubName}, ${whenOf(view, toPhone(view.closes), now)}`}
      action={
        may("seal") && (
          <Button kind={view.samples.length === 0 ? "primary" : "plain"} href={paths.seal(view.club, view.flight)}>
            {flights.seal}
          </Button>
        )
      }
    >
      <Away standing={view.standing} />
      {view.note && <p>{view.note}</p>}
      {view.share !== "shared" && <SyncMark {...shareState(view.share)} />}
      {view.pinned !== "yes" && <StatusLine>{flights.pinned[view.pinned]}</StatusLine>}
      {view.narrowing.map((each) => (
        <p key={each.facet}>
          {flights.narrowedTo(words.facet[each.facet as Facet], each.nodes.map((node) => nodeName(atlas, node)).join(", "))}
        </p>
      ))}
      <ul class="list">
        {view.samples.map((sample) => (
          <li key={sample.sample}>
            <SampleRow view={view} sample={sample} />
          </li>
        ))}
      </ul>
      {view.samples.length === 0 && <p class="soft">{flights.noSamples}</p>}
      {view.samples.length > 0 && <WhoGuessed view={view} />}
      <Deeds view={view} />
    </Page>
  );
}

function SampleRow({ view, sample }: { view: FlightView; sample: SampleLine }) {
  const atlas = useAtlas();
  const open = sample.state === "unsealed" && !sample.kept && !sample.asks;
  const keeper = view.members.find((member) => member.member === sample.keeper);
  const href = sample.state === "unsealed" ? paths.result(view.club, sample.sample) : paths.sample(view.club, sample.sample);
  return (
    <a class="list-row sample-row" href={href}>
      <SealMark open={open} />
      <span class="sample-code">
        <BlindCode code={sample.code} />
      </span>
      <span class="grow small">
        {open && (sample.label || sample.answer) ? <strong>{sample.label || nodeName(atlas, sample.answer)}</strong> : <span>{words.sampleState[sample.state]}</span>}
        {sample.early && <span> · {flights.early}</span>}
        {keeper && <span class="soft"> · {flights.keptBy(keeper.me ? words.common.you : keeper.name || words.common.unnamed)}</span>}
        <br />
        <MyGuess sample={sample} />
        {sample.share !== "shared" && (
          <>
            {" "}
            <SyncMark {...shareState(sample.share)} />
          </>
        )}
      </span>
      {sample.mine && <strong>{formatFactor(sample.mine)}</strong>}
      <OnwardIcon />
    </a>
  );
}

function MyGuess({ sample }: { sample: SampleLine }) {
  if (sample.guess.holder) return <span class="soft">{flights.youKnow}</span>;
  if (sample.kept) return <span class="soft">{flights.keptTitle}</span>;
  if (!sample.guess.made) return <span class="soft">{flights.notGuessed}</span>;
  return (
    <span>
      {flights.yourGuess}: <SyncMark {...guessState(sample.guess)} />
    </span>
  );
}

/** Members down, samples across. Who, not what. */
function WhoGuessed({ view }: { view: FlightView }) {
  return (
    <section class="stack close">
      <h2>{flights.whoGuessed}</h2>
      <p class="small soft">{flights.whoGuessedHint}</p>
      <Sideways label={flights.whoGuessed}>
        <table class="guessed">
          <thead>
            <tr>
              <td />
              {view.samples.map((sample) => (
                <th key={sample.sample} scope="col">
                  {formatCode(sample.code)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {view.members.map((member) => (
              <tr key={member.member}>
                <th scope="row">{member.me ? words.common.you : member.name || words.common.unnamed}</th>
                {view.samples.map((sample) => (
                  <td key={sample.sample}>{whatOf(member, sample)}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </Sideways>
    </section>
  );
}

function whatOf({ member }: Member, sample: SampleLine) {
  if (sample.keeper === member) return flights.keeps;
  if (sample.holders.includes(member)) return flights.knows;
  if (sample.guessed.includes(member)) return <strong>{flights.isIn}</strong>;
  if (sample.late.includes(member)) return words.sync.late;
  return <span class="soft">{flights.notYet}</span>;
}

function Deeds({ view }: { view: FlightView }) {
  const { club, flight } = view;
  const may = (what: FlightView["may"][number]) => view.may.includes(what);
  const opening = view.samples.filter((sample) => sample.may.includes("unseal"));
  const anyOpen = opening.some((sample) => sample.state === "open");
  const unseal = () => command("sample.unseal", { club, samples: opening.map((sample) => sample.sample), close: anyOpen });
  return (
    <div class="stack close">
      {may("close") && (
        <Sure label={flights.closeNow} question={flights.closeSure} onYes={() => command("flight.close", { club, flight, samples: [] })} />
      )}
      {may("unseal") && opening.length > 0 && (
        <Sure label={flights.unsealAll} question={anyOpen ? flights.unsealOpenSure : flights.unsealSure} onYes={unseal} />
      )}
      {(may("edit") || may("closing")) && (
        <Button kind="quiet" href={paths.flightEdit(club, flight)}>
          {flights.editTitle}
        </Button>
      )}
    </div>
  );
}
