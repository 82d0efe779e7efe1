// Times as people read them: a running clock, a moment, a distance from now. Milliseconds in, words in the person's locale
// out. What decides about times is the core; this only shows.

import { distances, moments } from "./formats.ts";
import * as words from "../words.ts";

const SECOND = 1000;
const MINUTE = 60 * SECOND;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

/** 0:52, 12:07, 1:02:03. */
export function formatClock(ms: number): string {
  const all = Math.max(0, Math.floor(ms / SECOND));
  const seconds = String(all % 60).padStart(2, "0");
  const minutes = Math.floor(all / 60) % 60;
  const hours = Math.floor(all / 3600);
  return hours > 0 ? `${hours}:${String(minutes).padStart(2, "0")}:${seconds}` : `${minutes}:${seconds}`;
}

/** Thursday 21:00; with the date when it is more than six days from now. */
export function formatMoment(at: number, now: number): string {
  const far = Math.abs(at - now) > 6 * DAY;
  const otherYear = new Date(at).getFullYear() !== new Date(now).getFullYear();
  return moments({
    ...(far ? { day: "numeric", month: "long", ...(otherYear && { year: "numeric" }) } : { weekday: "long" }),
    hour: "numeric",
    minute: "2-digit",
  }).format(at);
}

/** 21:14 */
export function formatHour(at: number): string {
  return moments({ hour: "numeric", minute: "2-digit" }).format(at);
}

/** in 2 days, 5 minutes ago, now. */
export function formatDistance(at: number, now: number): string {
  const away = at - now;
  const size = Math.abs(away);
  if (size < MINUTE) return words.time.now;
  const [unit, span]: [Intl.RelativeTimeFormatUnit, number] =
    size < HOUR ? ["minute", MINUTE] : size < DAY ? ["hour", HOUR] : ["day", DAY];
  return distances().format(Math.trunc(away / span), unit);
}

/** Reads "2:40", "160" or "2.40 min" never: minutes and seconds with a colon, or plain seconds. */
export function parseDuration(text: string): number | undefined {
  const bare = text.trim();
  if (bare === "") return undefined;
  const parts = /^(?:(\d{1,3}):([0-5]?\d)|(\d{1,5}))$/.exec(bare);
  if (!parts) return NaN;
  return parts[3] === undefined ? Number(parts[1]) * 60 + Number(parts[2]) : Number(parts[3]);
}

/** For an input of type datetime-local, in the person's own time zone. */
export function toLocalInput(at: number): string {
  const local = new Date(at - new Date(at).getTimezoneOffset() * MINUTE);
  return local.toISOString().slice(0, 16);
}

export function fromLocalInput(text: string): number | undefined {
  const at = new Date(text).getTime();
  return Number.isNaN(at) ? undefined : at;
}
