import assert from "node:assert/strict";
import { test } from "node:test";
import type { DataBrew, DataCup, DataRecord } from "../ui/gen/types.ts";
import { brewsTable, csv, cupsTable, isoTime } from "../ui/model/csv.ts";

/** Reads a table as RFC 4180 says, so that what is written is judged by another reading of it. */
function parse(text: string, separator: string): string[][] {
  assert.equal(text[0], "\ufeff");
  const rows: string[][] = [[]];
  let cell = "";
  let quoted = false;
  for (let at = 1; at < text.length; at++) {
    const sign = text[at]!;
    if (quoted) {
      if (sign === '"' && text[at + 1] === '"') cell += text[++at];
      else if (sign === '"') quoted = false;
      else cell += sign;
    } else if (sign === '"') quoted = true;
    else if (sign === separator || sign === "\r") {
      rows.at(-1)!.push(cell);
      cell = "";
      if (sign === "\r") {
        assert.equal(text[++at], "\n");
        rows.push([]);
      }
    } else cell += sign;
  }
  assert.deepEqual(rows.pop(), [], "the last row ends");
  return rows;
}

const cells = ["plain", "a,b", "a;b", 'say "dry"', "two\r\nlines", " spaced ", "", "ünï ☕ مُرّ"];

test("cells come back as they were", () => {
  for (const separator of [",", ";"] as const) assert.deepEqual(parse(csv([cells], { separator }), separator), [cells]);
});

test("a cell that a spreadsheet would calculate is made harmless", () => {
  const evil = ["=1+2", "+1", "-1", "@sum", "\t=1", " =cmd", "\r=1"];
  for (const cell of parse(csv([evil], { separator: "," }), ",")[0]!) assert.match(cell, /^'/);
  assert.deepEqual(parse(csv([[-0.3, "a=b"]], { separator: "," }), ","), [["-0.3", "a=b"]], "a number is no formula, nor a sign within");
});

test("numbers have a point, or a comma where the spreadsheet wants it", () => {
  const row = [1.35, 0.1 + 0.2, 15, undefined, NaN];
  assert.deepEqual(parse(csv([row], { separator: "," }), ","), [["1.35", "0.3", "15", "", ""]]);
  assert.deepEqual(parse(csv([row], { separator: ";" }), ";"), [["1,35", "0,3", "15", "", ""]]);
});

test("times are ISO 8601 with their distance from UTC", () => {
  assert.equal(isoTime(Date.UTC(2026, 10, 25, 18, 4, 5)), "2026-11-25T19:04:05+01:00");
  assert.equal(isoTime(Date.UTC(2026, 6, 1, 12)), "2026-07-01T14:00:00+02:00");
  assert.equal(isoTime(0), undefined);
});

test("a brew is one row under headings with units", () => {
  const record = {
    kind: "brew",
    brew: {
      id: "a", created: Date.UTC(2026, 10, 3, 18), began: 0, ended: 0, state: "done", of: { club: "c", sample: "s", code: 47, title: "First light" },
      setup: { coffee: "", brewer: "cone", geometry: "cone", dose: 15, scoops: 2.5, water: 240, ratio: 16, kettle: 91.5, sinceGrinding: 0, grind: "4.5" },
      marks: [{ mark: "bloom", at: 5000, grams: 45 }, { mark: "pour", at: 45_000, grams: 240 }, { mark: "end", at: 165_000, grams: 0 }],
      outcome: { pours: [], drawdown: 0, beverage: 208, bypass: 0, slurry: 0, tds: 1.35, balance: [{ of: "bitter", mark: -300 }], notes: "=bergamot" },
      yield: { value: 18.7, low: 18.1, high: 19.3 }, noticed: [{ stage: "hot", at: 1, words: ["bergamot", "tea"] }],
      readings: [], counts: true, abandoned: false, parent: "", table: "", bowl: 0,
    } as unknown as DataBrew,
  } as DataRecord;
  const [heads, row, ...more] = parse(csv(brewsTable([record, { kind: "home" }]), { separator: "," }), ",");
  assert.equal(more.length, 0);
  assert.equal(row!.length, heads!.length);
  const at = (head: string) => row![heads!.indexOf(head)];
  assert.deepEqual(
    ["planned", "code", "dose (g)", "scoops", "kettle (°C)", "drawdown (s)", "slurry (°C)", "bitter (-1 to 1)", "acid (-1 to 1)", "pours (s: g)", "EY (%)", "EY to (%)", "noticed", "notes"].map(at),
    ["2026-11-03T19:00:00+01:00", "047", "15", "2.5", "91.5", "165", "", "-0.3", "", "5: 45 | 45: 240", "18.7", "19.3", "hot: bergamot, tea", "'=bergamot"],
  );
  // a setting of a dial, where a spreadsheet with a decimal comma would read a day of May
  const grind = (setting: string) => {
    const setup = { ...record.brew!.setup, grind: setting };
    return parse(csv(brewsTable([{ ...record, brew: { ...record.brew!, setup } }]), { separator: ";" }), ";")[1]![heads!.indexOf("grind")];
  };
  assert.deepEqual(["4.5", "4,5", "22", "1+12", "C+2", "04", ""].map(grind), ["4,5", "4,5", "22", "1+12", "C+2", "04", ""]);
});

test("a cup says what was thought and what it was, by name", () => {
  const cup = {
    of: { club: "c", sample: "s", code: 417, title: "First light" }, clubName: "Observatory", grams: 45, keeps: "looked",
    first: [], noticed: [], guess: [{ facet: "process", said: [{ node: "process.washed", share: 8050 }] }], late: false, knew: false,
    opened: Date.UTC(2026, 10, 3, 18), answer: { origin: { nodes: ["origin.ethiopia"], source: "label" }, lot: "7" }, bits: -1250,
  } as unknown as DataCup;
  const names = (node: string) => ({ "process.washed": "washed", "origin.ethiopia": "Ethiopia" })[node] ?? node;
  const [heads, row] = parse(csv(cupsTable([{ kind: "cup", cup }], names), { separator: "," }), ",");
  assert.equal(row!.length, heads!.length);
  const at = (head: string) => row![heads!.indexOf(head)];
  assert.deepEqual(["guess", "guess in time", "answer", "lot", "score (bit)"].map(at), ["washed 80.5 %", "yes", "Ethiopia", "7", "-1.25"]);
});
