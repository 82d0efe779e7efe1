// Every running brew and every cup that cools, in sight on every screen, with what comes next of each: the second brew starts
// while the first cup cools.

import { formatClock } from "../../model/times.ts";
import * as words from "../../words.ts";
import { BenchIcon, CupIcon } from "../icons/icons.tsx";
import "./strip.css";

export interface Running {
  href: string;
  /** The screen of the brew itself, where it need not be said again. */
  about: string;
  name: string;
  /** What comes next, or how warm it is. */
  note: string;
  /** Milliseconds since the clock began; undefined while it has not, and when nobody ended it. */
  elapsed: number | undefined;
  cooling: boolean;
  /** Hours ago, and nobody ended it: its owner is asked where there is room for it, and it does not follow them about. */
  left: boolean;
  /** It is good to taste, or due, now. */
  call: boolean;
}

const clockOf = ({ elapsed, left }: Running) => (left ? "" : elapsed === undefined ? words.bench.notStarted : formatClock(elapsed));

export function RunningRow({ brew }: { brew: Running }) {
  return (
    <a class="running" href={brew.href}>
      {brew.cooling ? <CupIcon /> : <BenchIcon />}
      <span class="running-words">
        <strong>{brew.name}</strong>
        <span class={`small soft${brew.call ? " call" : ""}`}>{brew.note}</span>
      </span>
      <span class="running-clock">
        <strong>{clockOf(brew)}</strong>
      </span>
    </a>
  );
}

export function Strip({ brews: all }: { brews: readonly Running[] }) {
  const brews = all.filter(({ left }) => !left);
  if (brews.length === 0) return null;
  return (
    <nav class="strip no-print" aria-label={words.sitting.going}>
      {brews.map((brew) => (
        <a key={brew.href} href={brew.href}>
          {brew.cooling ? <CupIcon /> : <BenchIcon />}
          <span class="strip-words">
            <span class="strip-head">
              <strong>{brew.name}</strong>
              <span>{clockOf(brew)}</span>
            </span>
            <span class={`small soft${brew.call ? " call" : ""}`}>{brew.note}</span>
          </span>
        </a>
      ))}
    </nav>
  );
}
