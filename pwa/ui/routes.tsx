// Which screen stands at which address. The first pattern that fits wins.

import type { ComponentType } from "preact";
import type { Params } from "./model/router.ts";
import { About } from "./screens/about.tsx";
import { Advice } from "./screens/advice.tsx";
import { Bench } from "./screens/bench.tsx";
import { Bowls } from "./screens/bowls.tsx";
import { BowlsForm } from "./screens/bowlsform.tsx";
import { Brew } from "./screens/brew.tsx";
import { BrewerOf } from "./screens/brewer.tsx";
import { BrewAgain, BrewForm } from "./screens/brewform.tsx";
import { askLog, BrewLog, ComparePick } from "./screens/brewlog.tsx";
import { Chart } from "./screens/chart.tsx";
import { Club } from "./screens/club.tsx";
import { ClubNew } from "./screens/clubnew.tsx";
import { Clubs, ClubsPane } from "./screens/clubs.tsx";
import { ClubWater } from "./screens/clubwater.tsx";
import { CoffeeOf } from "./screens/coffee.tsx";
import { Compare } from "./screens/compare.tsx";
import { ConcentrateOf } from "./screens/concentrate.tsx";
import { Cupboard, CupboardPane } from "./screens/cupboard.tsx";
import { Data } from "./screens/data.tsx";
import { Devices } from "./screens/devices.tsx";
import { Enter, Join, Pair, Recover } from "./screens/enter.tsx";
import { Flight } from "./screens/flight.tsx";
import { FlightEdit, FlightNew } from "./screens/flightform.tsx";
import { Flights, FlightsPane } from "./screens/flights.tsx";
import { GrinderOf } from "./screens/grinder.tsx";
import { Guess, Look } from "./screens/guess.tsx";
import { Home } from "./screens/home.tsx";
import { InstrumentOf } from "./screens/instrument.tsx";
import { Invite } from "./screens/invite.tsx";
import { Items } from "./screens/items.tsx";
import { Member } from "./screens/member.tsx";
import { Mix } from "./screens/mix.tsx";
import { Practice } from "./screens/practice.tsx";
import { RecipeEdit, RecipeOf } from "./screens/recipe.tsx";
import { RecipeGot } from "./screens/recipegot.tsx";
import { Recovery } from "./screens/recovery.tsx";
import { Refused } from "./screens/refused.tsx";
import { Repeat } from "./screens/repeat.tsx";
import { Result } from "./screens/result.tsx";
import { Sample } from "./screens/sample.tsx";
import { Seal } from "./screens/seal.tsx";
import { BrewCup, SampleNotice } from "./screens/sitting.tsx";
import { Sync } from "./screens/sync.tsx";
import { Tonight } from "./screens/tonight.tsx";
import { Trials } from "./screens/trials.tsx";
import { WaterOf } from "./screens/water.tsx";
import { You } from "./screens/you.tsx";

export interface Route {
  pattern: string;
  screen: ComponentType<{ params: Params }>;
  /** Stands beside the screen where there is room for two. */
  pane?: ComponentType;
  /** Without the places: the screen wants all the room, or the person is not in yet. */
  bare?: boolean;
  /** What the screen will ask for, when that takes the core a while: asked as soon as a finger comes down on a link to it. */
  ahead?: (query: string) => void;
}

export const routes: readonly Route[] = [
  { pattern: "/", screen: Tonight },
  { pattern: "/bench", screen: Bench },
  { pattern: "/bench/log", screen: BrewLog, ahead: askLog },
  { pattern: "/bench/chart", screen: Chart },
  { pattern: "/bench/next/:book/:brew", screen: Advice },
  { pattern: "/bench/trials/:book/:brew", screen: Trials },
  { pattern: "/bench/repeat/:book/:brew", screen: Repeat },
  { pattern: "/bench/compare/:book/:brew", screen: ComparePick },
  { pattern: "/bench/compare/:book/:brew/:otherBook/:otherBrew", screen: Compare },
  { pattern: "/bench/new", screen: BrewForm },
  { pattern: "/bench/new/:club/:sample", screen: BrewForm },
  { pattern: "/bench/again/:book/:brew", screen: BrewAgain },
  { pattern: "/bench/brew/:book/:brew", screen: Brew, bare: true },
  { pattern: "/bench/bowls", screen: BowlsForm },
  { pattern: "/bench/bowls/:table", screen: Bowls, bare: true },
  { pattern: "/bench/cup/:book/:brew", screen: BrewCup },
  { pattern: "/flights", screen: Flights },
  { pattern: "/flights/:club/new", screen: FlightNew, pane: FlightsPane },
  { pattern: "/flights/:club/:flight", screen: Flight, pane: FlightsPane },
  { pattern: "/flights/:club/:flight/edit", screen: FlightEdit, pane: FlightsPane },
  { pattern: "/flights/:club/:flight/seal", screen: Seal, pane: FlightsPane },
  { pattern: "/sample/:club/:sample", screen: Sample, pane: FlightsPane },
  { pattern: "/sample/:club/:sample/look", screen: Look, pane: FlightsPane },
  { pattern: "/sample/:club/:sample/notice/:step", screen: SampleNotice, pane: FlightsPane },
  { pattern: "/sample/:club/:sample/guess", screen: Guess, pane: FlightsPane },
  { pattern: "/sample/:club/:sample/open", screen: Result, pane: FlightsPane },
  { pattern: "/practice", screen: Practice },
  { pattern: "/cupboard", screen: Cupboard },
  { pattern: "/cupboard/home", screen: Home, pane: CupboardPane },
  { pattern: "/cupboard/have/:what", screen: Items, pane: CupboardPane },
  { pattern: "/cupboard/have/coffee/:id", screen: CoffeeOf, pane: CupboardPane },
  { pattern: "/cupboard/have/brewer/:id", screen: BrewerOf, pane: CupboardPane },
  { pattern: "/cupboard/have/grinder/:id", screen: GrinderOf, pane: CupboardPane },
  { pattern: "/cupboard/have/instrument/:id", screen: InstrumentOf, pane: CupboardPane },
  { pattern: "/cupboard/have/recipe/:id", screen: RecipeOf, pane: CupboardPane },
  { pattern: "/cupboard/have/recipe/:id/edit", screen: RecipeEdit, pane: CupboardPane },
  { pattern: "/cupboard/have/water/:id", screen: WaterOf, pane: CupboardPane },
  { pattern: "/cupboard/have/concentrate/:id", screen: ConcentrateOf, pane: CupboardPane },
  { pattern: "/cupboard/data", screen: Data, pane: CupboardPane },
  { pattern: "/cupboard/mix", screen: Mix, pane: CupboardPane },
  { pattern: "/cupboard/mix/:club", screen: Mix, pane: CupboardPane },
  { pattern: "/cupboard/you", screen: You, pane: CupboardPane },
  { pattern: "/cupboard/sync", screen: Sync, pane: CupboardPane },
  { pattern: "/cupboard/refused", screen: Refused, pane: CupboardPane },
  { pattern: "/cupboard/devices", screen: Devices, pane: CupboardPane },
  { pattern: "/cupboard/recovery", screen: Recovery, pane: CupboardPane },
  { pattern: "/club", screen: Clubs },
  { pattern: "/club/new", screen: ClubNew, pane: ClubsPane },
  { pattern: "/club/enter", screen: Enter, pane: ClubsPane },
  { pattern: "/club/:club", screen: Club, pane: ClubsPane },
  { pattern: "/club/:club/water", screen: ClubWater, pane: ClubsPane },
  { pattern: "/club/:club/invite", screen: Invite, pane: ClubsPane },
  { pattern: "/club/:club/member/:member", screen: Member, pane: ClubsPane },
  { pattern: "/recipe", screen: RecipeGot },
  { pattern: "/join", screen: Join, bare: true },
  { pattern: "/pair", screen: Pair, bare: true },
  { pattern: "/recover", screen: Recover, bare: true },
  { pattern: "/about", screen: About },
];
