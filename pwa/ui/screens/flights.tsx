// All flights of all clubs that one is in.

import type { ClubLine, FlightLine } from "../gen/types.ts";
import { useMinute } from "../model/clock.ts";
import { useClubTime } from "../model/clubtime.ts";
import { useView } from "../model/core.ts";
import { formatDistance, formatMoment } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { SealMark } from "../parts/envelope/envelope.tsx";
import { OnwardIcon } from "../parts/icons/icons.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { paths } from "../paths.ts";
import { place } from "../model/router.ts";
import * as words from "../words.ts";
import { flights } from "../words.ts";

export function Flights() {
  const seen = useView("clubs");
  return (
    <Shown seen={seen} title={flights.title}>
      {({ clubs }) => (
        <Page title={flights.title}>
          {clubs.length === 0 && (
            <div class="stack close">
              <p class="title">{flights.none}</p>
              <p class="soft">{flights.noClub}</p>
              <Button kind="primary" href={paths.clubs}>
                {words.club.title}
              </Button>
            </div>
          )}
          {clubs.map((club) => (
            <ClubFlights key={club.club} club={club} named={clubs.length > 1} />
          ))}
        </Page>
      )}
    </Shown>
  );
}

/** The list beside an open flight. */
export function FlightsPane() {
  const clubs = useView("clubs").value?.clubs ?? [];
  return (
    <nav class="page" aria-label={flights.title}>
      <header class="page-head">
        <p class="title">{flights.title}</p>
      </header>
      <div class="page-body stack">
        {clubs.map((club) => (
          <ClubFlights key={club.club} club={club} named={clubs.length > 1} />
        ))}
      </div>
    </nav>
  );
}

function ClubFlights({ club, named }: { club: ClubLine; named: boolean }) {
  const view = useView("club", { club: club.club }).value;
  const status = words.bookStatus[club.status];
  return (
    <section class="stack close">
      {(named || status !== "") && (
        <h2>
          {club.name || words.common.unnamed}
          {status && <span class="small soft"> · {status}</span>}
        </h2>
      )}
      {view?.flights.length === 0 && <p class="soft">{flights.noneText}</p>}
      {view && <FlightList club={club.club} list={view.flights} />}
      {view?.may.includes("flight") && <Button href={paths.flightNew(club.club)}>{flights.begin}</Button>}
    </section>
  );
}

export function FlightList({ club, list }: { club: string; list: readonly FlightLine[] }) {
  if (list.length === 0) return null;
  return (
    <ul class="list">
      {list.map((flight) => (
        <li key={flight.flight}>
          <FlightRow club={club} flight={flight} />
        </li>
      ))}
    </ul>
  );
}

function FlightRow({ club, flight }: { club: string; flight: FlightLine }) {
  const now = useMinute();
  const { toPhone } = useClubTime();
  const href = paths.flight(club, flight.flight);
  const here = place.value.path === href;
  return (
    <a class="list-row" href={href} aria-current={here ? "page" : undefined}>
      <SealMark open={flight.state === "opened" || flight.state === "opening"} />
      <span class="grow">
        <strong>{flight.title || words.common.unnamed}</strong>
        <br />
        <span class="small soft">
          {flights.samples(flight.samples)}, {whenOf(flight, toPhone(flight.closes), now)}
        </span>
        {flight.state === "open" && flight.samples > 0 && (
          <>
            <br />
            <span class="small soft">{flights.guessed(flight.guessed, flight.samples)}</span>
          </>
        )}
      </span>
      <OnwardIcon />
    </a>
  );
}

/** When it closes, while that is ahead; else its state. */
export function whenOf(flight: { state: FlightLine["state"]; closes: number }, closes: number, now: number): string {
  if (flight.state !== "open") return words.flightState[flight.state];
  if (!flight.closes) return flights.closesByHand;
  return flights.closesAt(formatMoment(closes, now), formatDistance(closes, now));
}
