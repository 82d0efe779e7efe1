// The five places, at the lower edge of a phone and beside the pages of a laptop. Where one is stands in ink, with a bar;
// the name is always written.

import { place } from "../../model/router.ts";
import * as words from "../../words.ts";
import { BenchIcon, ClubIcon, CupboardIcon, FlightsIcon, PracticeIcon } from "../icons/icons.tsx";
import "./places.css";

export const PLACES = [
  { path: "/bench", Icon: BenchIcon, name: () => words.places.bench },
  { path: "/flights", Icon: FlightsIcon, name: () => words.places.flights },
  { path: "/practice", Icon: PracticeIcon, name: () => words.places.practice },
  { path: "/cupboard", Icon: CupboardIcon, name: () => words.places.cupboard },
  { path: "/club", Icon: ClubIcon, name: () => words.places.club },
] as const;

/** A sample belongs to the flights; tonight is on the way to all of them. */
function isIn(placePath: string, path: string): boolean {
  if (path === placePath || path.startsWith(`${placePath}/`)) return true;
  return placePath === "/flights" && path.startsWith("/sample/");
}

export function PlaceBar() {
  const { path } = place.value;
  return (
    <nav class="places no-print" aria-label={words.places.label}>
      <a class="places-home" href="/" aria-current={path === "/" ? "page" : undefined}>
        {words.places.tonight}
      </a>
      {PLACES.map(({ path: target, Icon, name }) => (
        <a key={target} href={target} aria-current={isIn(target, path) ? "page" : undefined}>
          <Icon />
          <span>{name()}</span>
        </a>
      ))}
    </nav>
  );
}
