// Brews and cups as tables for a spreadsheet: RFC 4180, UTF-8 with a mark at the start, one row of headings with units, dates
// as ISO 8601. A cell that a spreadsheet would take for a formula is made harmless.

import type { Answer, AtlasView, DataBrew, DataCup, DataNote, DataRecord, SaidFacet } from "../gen/types.ts";

/** Some locales' spreadsheets want a semicolon between cells, and with it a decimal comma. */
export interface CsvStyle {
  separator: "," | ";";
}

export type Cell = string | number | undefined;

/** Each row of cells as a line. Numbers that were not measured are empty. */
export function csv(rows: readonly (readonly Cell[])[], style: CsvStyle): string {
  return `\ufeff${rows.map((row) => row.map((cell) => cellText(cell, style)).join(style.separator)).join("\r\n")}\r\n`;
}

function cellText(cell: Cell, { separator }: CsvStyle): string {
  if (cell === undefined) return "";
  if (typeof cell === "number") return Number.isFinite(cell) ? numberText(cell, separator) : "";
  const safe = /^[\s]*[=+\-@]|^[\t\r]/.test(cell) ? `'${cell}` : cell;
  return /[",;\r\n]|^\s|\s$/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

function numberText(value: number, separator: "," | ";"): string {
  const text = String(Math.round(value * 1e6) / 1e6);
  return separator === ";" ? text.replace(".", ",") : text;
}

/** Local time with its distance from UTC: 2026-11-25T19:04:05+01:00. */
export function isoTime(millis: number): string | undefined {
  if (millis === 0) return undefined;
  const date = new Date(millis);
  const off = -date.getTimezoneOffset();
  const two = (value: number) => String(Math.floor(Math.abs(value))).padStart(2, "0");
  const local = new Date(millis + off * 60_000).toISOString().slice(0, 19);
  return `${local}${off < 0 ? "-" : "+"}${two(off / 60)}:${two(Math.abs(off) % 60)}`;
}

const measured = (value: number): Cell => (value === 0 ? undefined : value);

const brewHeads = [
  "id", "planned", "began", "state", "code", "flight", "coffee", "brewer", "geometry", "filter", "method", "recipe", "grinder", "grind",
  "dose (g)", "scoops", "water (g)", "ratio (g/g)", "kettle (°C)", "water kind", "since grinding (min)", "drawdown (s)", "in the cup (g)", "bypass (g)", "slurry (°C)",
  "TDS (%)", "EY (%)", "EY from (%)", "EY to (%)", "acid (-1 to 1)", "sweet (-1 to 1)", "bitter (-1 to 1)", "body (-1 to 1)", "finish (-1 to 1)", "pours (s: g)", "counts", "abandoned", "changed from", "table", "bowl", "noticed", "notes",
];

/** A setting that is a number is written as one: a spreadsheet that wants a decimal comma would take 4.5 for a day of May. */
function settingCell(grind: string): Cell {
  const value = Number(grind.replace(",", "."));
  return String(value) === grind.replace(",", ".") ? value : grind;
}

const balance = ["acid", "sweet", "bitter", "body", "finish"] as const;

function brewRow(brew: DataBrew): Cell[] {
  const { setup, outcome } = brew;
  const mark = (of: string): Cell => {
    const found = outcome.balance.find((each) => each.of === of);
    return found && found.mark / 1000;
  };
  return [
    brew.id, isoTime(brew.created), isoTime(brew.began), brew.state, brew.of && codeText(brew.of.code), brew.of?.title, setup.coffee, setup.brewer, setup.geometry,
    setup.filter, setup.method, setup.recipe, setup.grinder, settingCell(setup.grind), measured(setup.dose), measured(setup.scoops), measured(setup.water), measured(setup.ratio), measured(setup.kettle),
    setup.waterName, measured(setup.sinceGrinding), measured(drawdown(brew)), measured(outcome.beverage), measured(outcome.bypass), measured(outcome.slurry), measured(outcome.tds), brew.yield?.value, brew.yield?.low, brew.yield?.high,
    ...balance.map(mark), poursText(brew), yesNo(brew.counts), yesNo(brew.abandoned), brew.parent, brew.table, measured(brew.bowl), noticedText(brew.noticed), outcome.notes,
  ];
}

const yesNo = (value: boolean): Cell => (value ? "yes" : "no");
const codeText = (code: number): Cell => String(code).padStart(3, "0");

/** As corrected by hand, or as marked. */
function drawdown({ outcome, marks }: DataBrew): number {
  const end = marks.find(({ mark }) => mark === "end");
  return outcome.drawdown || (end ? end.at / 1000 : 0);
}

function poursText({ outcome, marks }: DataBrew): string {
  const pours = outcome.pours.length > 0 ? outcome.pours : marks.filter(({ mark }) => mark === "bloom" || mark === "pour").map(({ at, grams }) => ({ at: at / 1000, grams }));
  return pours.map(({ at, grams }) => `${at}: ${grams}`).join(" | ");
}

export function brewsTable(records: readonly DataRecord[]): Cell[][] {
  return [brewHeads, ...records.flatMap(({ brew }) => (brew ? [brewRow(brew)] : []))];
}

const cupHeads = [
  "sample", "club", "flight", "code", "portion (g)", "opened", "guess before brewing", "guess", "guess in time", "knew it", "noticed before", "answer", "lot", "producer", "roasted", "score (bit)",
];

/** Names of the atlas's nodes, for people who read a table. */
export type Names = (node: string) => string;

export function namesOf(atlas: AtlasView | undefined): Names {
  const known = new Map(atlas?.facets.flatMap(({ nodes }) => nodes.map(({ node, name }) => [node, name] as const)));
  return (node) => known.get(node) ?? node;
}

function cupRow(cup: DataCup, names: Names): Cell[] {
  return [
    cup.of.sample, cup.clubName, cup.of.title, codeText(cup.of.code), measured(cup.grams), isoTime(cup.opened), saidText(cup.first, names), saidText(cup.guess, names),
    cup.guess.length > 0 ? yesNo(!cup.late) : undefined, yesNo(cup.knew), noticedText(cup.noticed), answerText(cup.answer, names), cup.answer?.lot, cup.answer?.producer, cup.answer?.roasted,
    cup.bits === undefined ? undefined : cup.bits / 1000,
  ];
}

export function cupsTable(records: readonly DataRecord[], names: Names): Cell[][] {
  return [cupHeads, ...records.flatMap(({ cup }) => (cup ? [cupRow(cup, names)] : []))];
}

/** "hot: bergamot, tea | cool: plum" */
const noticedText = (noticed: readonly DataNote[]): string => noticed.map(({ stage, words }) => `${stage}: ${words.join(", ")}`).join(" | ");

/** "washed 80 %, Ethiopia 60 %" */
function saidText(facets: readonly SaidFacet[], names: Names): string {
  return facets.flatMap(({ said }) => said.map(({ node, share }) => `${names(node)} ${share / 100} %`)).join(", ");
}

function answerText(answer: Answer | undefined, names: Names): string | undefined {
  if (!answer) return undefined;
  const facets = [answer.origin, answer.process, answer.variety, answer.decaf, answer.altitude, answer.roast];
  return facets.flatMap((known) => known?.nodes.map(names) ?? []).join(", ");
}
