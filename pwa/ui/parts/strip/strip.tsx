// Every running brew, in sight on every screen: a second one starts while the first cup cools.

import { formatClock } from "../../model/times.ts";
import { words } from "../../words.ts";
import { CupIcon } from "../icons/icons.tsx";
import "./strip.css";

export interface Running {
  href: string;
  name: string;
  note: string;
  /** Milliseconds since the clock began; undefined while it has not. */
  elapsed: number | undefined;
}

export function RunningRow({ brew }: { brew: Running }) {
  return (
    <a class="running" href={brew.href}>
      <CupIcon />
      <span class="running-words">
        <strong>{brew.name}</strong>
        <span class="small soft">{brew.note}</span>
      </span>
      <span class="running-clock">
        <strong>{brew.elapsed === undefined ? words.bench.notStarted : formatClock(brew.elapsed)}</strong>
      </span>
    </a>
  );
}

export function Strip({ brews }: { brews: readonly Running[] }) {
  if (brews.length === 0) return null;
  return (
    <nav class="strip no-print" aria-label={words.bench.running}>
      {brews.map((brew) => (
        <a key={brew.href} href={brew.href}>
          <CupIcon />
          <strong>{brew.name}</strong>
          <span>{brew.elapsed === undefined ? words.bench.notStarted : formatClock(brew.elapsed)}</span>
        </a>
      ))}
    </nav>
  );
}
