// One step back, and what it took back: said for a moment where the step stood, so that a second press in haste takes nothing.

import { signal } from "@preact/signals";
import type { BrewParams } from "../gen/types.ts";
import { command } from "./core.ts";

const SAID_MS = 4000;

const taken = signal<{ brew: string; text: string } | undefined>(undefined);

let over: ReturnType<typeof setTimeout> | undefined;

export async function takeBack({ book, brew }: BrewParams, text: string): Promise<void> {
  await command("brew.unmark", { book, brew });
  taken.value = { brew, text };
  clearTimeout(over);
  over = setTimeout(() => (taken.value = undefined), SAID_MS);
}

/** What was just taken back of one of these brews; empty when nothing was. */
export function takenBack(...brews: string[]): string {
  const last = taken.value;
  return last && brews.includes(last.brew) ? last.text : "";
}
