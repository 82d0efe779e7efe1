// Which screen stands at which address. The first pattern that fits wins. A room("Name") stands in rooms.ts, which is loaded
// once the first screen stands.

import type { ComponentType } from "preact";
import type { Params } from "./model/router.ts";
import { room } from "./model/rooms.tsx";
import { Bench } from "./screens/bench.tsx";
import { Brew } from "./screens/brew.tsx";
import { BrewAgain, BrewForm } from "./screens/brewform.tsx";
import { Clubs, ClubsPane } from "./screens/clubs.tsx";
import { Cupboard, CupboardPane } from "./screens/cupboard.tsx";
import { Join } from "./screens/enter.tsx";
import { Flight } from "./screens/flight.tsx";
import { Flights, FlightsPane } from "./screens/flights.tsx";
import { Guess, Look } from "./screens/guess.tsx";
import { Sample } from "./screens/sample.tsx";
import { BrewCup, SampleNotice } from "./screens/sitting.tsx";
import { Tonight } from "./screens/tonight.tsx";

export interface Route {
  pattern: string;
  screen: ComponentType<{ params: Params }>;
  /** Stands beside the screen where there is room for two. */
  pane?: ComponentType;
  /** Without the places: the screen wants all the room, or the person is not in yet. */
  bare?: boolean;
}

export const routes: readonly Route[] = [
  { pattern: "/", screen: Tonight },
  { pattern: "/bench", screen: Bench },
  { pattern: "/bench/log", screen: room("BrewLog") },
  { pattern: "/bench/chart", screen: room("Chart") },
  { pattern: "/bench/next/:book/:brew", screen: room("Advice") },
  { pattern: "/bench/trials/:book/:brew", screen: room("Trials") },
  { pattern: "/bench/repeat/:book/:brew", screen: room("Repeat") },
  { pattern: "/bench/compare/:book/:brew", screen: room("ComparePick") },
  { pattern: "/bench/compare/:book/:brew/:otherBook/:otherBrew", screen: room("Compare") },
  { pattern: "/bench/new", screen: BrewForm },
  { pattern: "/bench/new/:club/:sample", screen: BrewForm },
  { pattern: "/bench/again/:book/:brew", screen: BrewAgain },
  { pattern: "/bench/brew/:book/:brew", screen: Brew, bare: true },
  { pattern: "/bench/bowls", screen: room("BowlsForm") },
  { pattern: "/bench/bowls/:table", screen: room("Bowls"), bare: true },
  { pattern: "/bench/cup/:book/:brew", screen: BrewCup },
  { pattern: "/flights", screen: Flights },
  { pattern: "/flights/:club/new", screen: room("FlightNew"), pane: FlightsPane },
  { pattern: "/flights/:club/:flight", screen: Flight, pane: FlightsPane },
  { pattern: "/flights/:club/:flight/edit", screen: room("FlightEdit"), pane: FlightsPane },
  { pattern: "/flights/:club/:flight/seal", screen: room("Seal"), pane: FlightsPane },
  { pattern: "/sample/:club/:sample", screen: Sample, pane: FlightsPane },
  { pattern: "/sample/:club/:sample/look", screen: Look, pane: FlightsPane },
  { pattern: "/sample/:club/:sample/notice/:step", screen: SampleNotice, pane: FlightsPane },
  { pattern: "/sample/:club/:sample/guess", screen: Guess, pane: FlightsPane },
  { pattern: "/sample/:club/:sample/open", screen: room("Result"), pane: FlightsPane },
  { pattern: "/practice", screen: room("Practice") },
  { pattern: "/cupboard", screen: Cupboard },
  { pattern: "/cupboard/home", screen: room("Home"), pane: CupboardPane },
  { pattern: "/cupboard/have/:what", screen: room("Items"), pane: CupboardPane },
  { pattern: "/cupboard/have/coffee/:id", screen: room("CoffeeOf"), pane: CupboardPane },
  { pattern: "/cupboard/have/brewer/:id", screen: room("BrewerOf"), pane: CupboardPane },
  { pattern: "/cupboard/have/grinder/:id", screen: room("GrinderOf"), pane: CupboardPane },
  { pattern: "/cupboard/have/instrument/:id", screen: room("InstrumentOf"), pane: CupboardPane },
  { pattern: "/cupboard/have/recipe/:id", screen: room("RecipeOf"), pane: CupboardPane },
  { pattern: "/cupboard/have/recipe/:id/edit", screen: room("RecipeEdit"), pane: CupboardPane },
  { pattern: "/cupboard/have/water/:id", screen: room("WaterOf"), pane: CupboardPane },
  { pattern: "/cupboard/have/concentrate/:id", screen: room("ConcentrateOf"), pane: CupboardPane },
  { pattern: "/cupboard/data", screen: room("Data"), pane: CupboardPane },
  { pattern: "/cupboard/mix", screen: room("Mix"), pane: CupboardPane },
  { pattern: "/cupboard/mix/:club", screen: room("Mix"), pane: CupboardPane },
  { pattern: "/cupboard/you", screen: room("You"), pane: CupboardPane },
  { pattern: "/cupboard/sync", screen: room("Sync"), pane: CupboardPane },
  { pattern: "/cupboard/refused", screen: room("Refused"), pane: CupboardPane },
  { pattern: "/cupboard/devices", screen: room("Devices"), pane: CupboardPane },
  { pattern: "/cupboard/recovery", screen: room("Recovery"), pane: CupboardPane },
  { pattern: "/club", screen: Clubs },
  { pattern: "/club/new", screen: room("ClubNew"), pane: ClubsPane },
  { pattern: "/club/enter", screen: room("Enter"), pane: ClubsPane },
  { pattern: "/club/:club", screen: room("Club"), pane: ClubsPane },
  { pattern: "/club/:club/water", screen: room("ClubWater"), pane: ClubsPane },
  { pattern: "/club/:club/invite", screen: room("Invite"), pane: ClubsPane },
  { pattern: "/club/:club/member/:member", screen: room("Member"), pane: ClubsPane },
  { pattern: "/recipe", screen: room("RecipeGot") },
  { pattern: "/join", screen: Join, bare: true },
  { pattern: "/pair", screen: room("Pair"), bare: true },
  { pattern: "/recover", screen: room("Recover"), bare: true },
  { pattern: "/about", screen: room("About") },
];
