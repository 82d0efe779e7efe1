import assert from "node:assert/strict";
import { test } from "node:test";
import { inUse, readNarrowing, readRow, searchOf, wide, writeNarrowing } from "../ui/model/narrowing.ts";
import { formatApart, formatExpected, formatMark } from "../ui/model/quantities.ts";
import { reached } from "../ui/parts/longlist/reach.ts";
import { plain } from "./plain.ts";

// the runner sets the time zone to Vienna

test("what a list is narrowed to comes back out of its address", () => {
  const narrowing = { ...wide, words: "bergamot & 5 %", brewer: "a/b?", from: "2026-03-29", measured: true };
  assert.deepEqual(readNarrowing(writeNarrowing(narrowing, 812)), narrowing);
  assert.equal(readRow(writeNarrowing(narrowing, 812)), 812);
  assert.equal(writeNarrowing(wide), "");
  assert.deepEqual(inUse(narrowing), ["words", "brewer", "from", "measured"]);
});

test("an address that was tampered with narrows nothing by it", () => {
  assert.deepEqual(readNarrowing("from=tomorrow&until=2026-13&row=-4&nothing=1"), wide);
  assert.equal(readRow("row=-4"), 0);
  assert.equal(readRow("row=1.5"), 0);
});

test("a day is the person's own, and the last one is meant whole", () => {
  const { from = 0, until = 0 } = searchOf({ ...wide, from: "2026-03-29", until: "2026-03-29" });
  assert.equal(from, Date.UTC(2026, 2, 28, 23)); // midnight in Vienna, in winter time
  assert.equal(until - from, 23 * 3_600_000); // an hour is left out that night
});

test("only the lengths of a list that are near the screen are made", () => {
  const high = () => 1000;
  assert.deepEqual(reached(250, high, -1200, 2000), [0, 1]);
  assert.deepEqual(reached(250, high, 99_500, 102_500), [99, 102]);
  assert.deepEqual(reached(3, high, 50_000, 60_000), [2, 2]);
  assert.deepEqual(reached(0, high, 0, 500), [0, 0]);
});

test("differences have a sign, and what is tasted is in hundredths", () => {
  assert.equal(plain(formatApart("seconds", -0.125)), "−12.5 %");
  assert.equal(plain(formatApart("acid", 0.3)), "+30");
  assert.equal(plain(formatApart("tds", 0)), "0 %");
  assert.equal(formatMark(-204), "−20");
  assert.equal(formatExpected("seconds", 165.4), "2:45");
  assert.equal(formatExpected("sweet", -0.31), "−31");
});
