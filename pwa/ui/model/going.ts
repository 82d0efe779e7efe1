// Running brews and cooling cups as rows: where they lead, what they are, what comes next of them. The bowls of one table are
// one row: the bowl that is due first.

import type { Going } from "../gen/types.ts";
import type { Running } from "../parts/strip/strip.tsx";
import * as words from "../words.ts";
import { sitting } from "../words.ts";
import { paths } from "../paths.ts";
import { callNow, coolingLine, span } from "./cooling.ts";
import { formatMoment } from "./times.ts";
import { formatWeight } from "./units.ts";

export function goingRows(going: readonly Going[], now: number): Running[] {
  const tables = new Map<string, Going[]>();
  const rows: Running[] = [];
  for (const each of going) {
    const bowls = each.table ? tables.get(each.table) : undefined;
    if (bowls) {
      bowls.push(each);
      continue;
    }
    if (each.table) tables.set(each.table, [each]);
    else rows.push(row(each, now));
  }
  const all = [...[...tables.values()].map((bowls) => tableRow(bowls, now)), ...rows];
  return [...all.filter(({ left }) => !left), ...all.filter(({ left }) => left)];
}

function row(each: Going, now: number): Running {
  return {
    href: each.what !== "cooling" ? paths.brew(each.book, each.brew) : paths.cup(each.book, each.brew),
    about: paths.brew(each.book, each.brew),
    name: goingName(each),
    note: noteOf(each, now),
    elapsed: each.began > 0 && each.what !== "left" ? now - each.began : undefined,
    cooling: each.what === "cooling",
    left: each.what === "left",
    call: each.cooling !== undefined && callNow(each.cooling, now) !== undefined,
  };
}

function noteOf(each: Going, now: number): string {
  if (each.what === "left") return sitting.leftOpen(formatMoment(each.began, now));
  if (each.what === "brewing") return nextOf(each, now);
  return each.cooling ? coolingLine(each.cooling, now) : words.tonight.cooling;
}

export function goingName(each: Pick<Going, "code" | "coffee">): string {
  return each.code ? formatCode(each.code) : each.coffee || words.tonight.ownCoffee;
}

/** pour to 150 g in 0:23 */
function nextOf(each: Going, now: number): string {
  if (each.held) return sitting.held;
  if (!each.at) return words.tonight.brewing;
  if (!each.next) return each.at > now ? words.tonight.brewing : sitting.over;
  const away = span(each.at - now);
  const step = words.step[each.next];
  if (each.at <= now) return sitting.now(step);
  return each.to > 0 ? sitting.nextTo(step, formatWeight(each.to, 0), away) : sitting.next(step, away);
}

function tableRow(bowls: Going[], now: number): Running {
  const due = bowls.filter((each) => each.next && each.at > 0).sort((a, b) => a.at - b.at)[0];
  const first = bowls.reduce((a, b) => (b.began > 0 && (a.began === 0 || b.began < a.began) ? b : a));
  const open = bowls.filter((each) => each.what !== "cooling");
  const left = open.length > 0 && open.every((each) => each.what === "left");
  return {
    href: paths.bowls(first.table),
    about: paths.bowls(first.table),
    name: sitting.bowls(left ? open.length : bowls.length),
    note: left ? sitting.leftOpen(formatMoment(first.began, now)) : due?.next ? bowlNote(due.bowl, words.step[due.next], due.at - now) : words.tonight.cooling,
    elapsed: first.began > 0 && !left ? now - first.began : undefined,
    cooling: bowls.every((each) => each.what === "cooling"),
    left,
    call: !left && due !== undefined && due.at <= now,
  };
}

const bowlNote = (bowl: number, step: string, away: number) => (away > 0 ? sitting.bowlNext(step, bowl, span(away)) : sitting.bowlNow(step, bowl));

/** A blind code has three digits. */
export function formatCode(code: number): string {
  return String(code).padStart(3, "0");
}
