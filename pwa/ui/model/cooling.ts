// How warm a cup is now, and when it is good to taste. The core calibrates the clock; this reads it off.

import type { Call, Cooling } from "../gen/types.ts";
import * as words from "../words.ts";
import { sitting } from "../words.ts";
import { formatTemperature } from "./units.ts";

/** Nobody is told to drink above it. */
export const HOTTEST_SIP = 65;

/** A call stands for this long. */
const CALL_MS = 60_000;

export function celsiusAt(cooling: Cooling, now: number): number {
  return cooling.room + (cooling.start - cooling.room) * Math.exp((-cooling.rate * (now - cooling.from)) / 1000);
}

/** The newest call, while it stands. */
export function callNow(cooling: Cooling, now: number): Call | undefined {
  const passed = cooling.calls.findLast((call) => now >= call.at);
  return passed && now < passed.at + CALL_MS ? passed : undefined;
}

/** about 57 °C; warm notes in 3 min */
export function coolingLine(cooling: Cooling, now: number): string {
  const celsius = celsiusAt(cooling, now);
  const about = sitting.about(formatTemperature(celsius));
  const call = callNow(cooling, now);
  if (call) return `${about}; ${sitting.notesNow(words.cupStage[call.stage])}`;
  const next = cooling.calls.find((each) => each.at > now);
  if (!next) return about;
  const away = span(next.at - now);
  return `${about}; ${celsius > HOTTEST_SIP ? sitting.tooHot(away) : sitting.notesIn(words.cupStage[next.stage], away)}`;
}

/** 3 min, or 40 s when it is less than a minute. */
export function span(ms: number): string {
  return ms < 60_000 ? sitting.seconds(Math.max(Math.ceil(ms / 1000), 0)) : sitting.minutes(Math.round(ms / 60_000));
}
