// One step back, and what it took back: said for a moment where the step stood, so that a second press in haste takes nothing.

import { signal } from "@preact/signals";
import type { BrewView } from "../gen/types.ts";
import { command } from "./core.ts";

const SAID_MS = 4000;

interface Taken {
  brew: string;
  text: string;
  /** By this phone's clock. */
  at: number;
}

const taken = signal<Taken | undefined>(undefined);

let over: ReturnType<typeof setTimeout> | undefined;

export async function takeBack({ book, brew }: BrewView, text: string): Promise<void> {
  await command("brew.unmark", { book, brew });
  taken.value = { brew, text, at: Date.now() };
  clearTimeout(over);
  over = setTimeout(() => (taken.value = undefined), SAID_MS);
}

/** What was just taken back of one of these brews, until the next touch; empty when nothing was. */
export function takenBack(...brews: BrewView[]): string {
  const last = taken.value;
  const of = last && brews.find(({ brew }) => brew === last.brew);
  return of && !brews.some(touchedSince(last.at)) ? last.text : "";
}

const touchedSince =
  (at: number) =>
  ({ began, marks }: BrewView) =>
    marks.some((mark) => began + mark.at * 1000 > at);
