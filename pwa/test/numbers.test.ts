import assert from "node:assert/strict";
import { test } from "node:test";
import { formatFactor, formatShare, parseNumber, readNumber, spokenCode, type Range } from "../ui/model/numbers.ts";
import { parseDuration, formatClock } from "../ui/model/times.ts";
import { plain } from "./plain.ts";

test("a decimal comma is a decimal point", () => {
  assert.equal(parseNumber("15,5"), 15.5);
  assert.equal(parseNumber("15.5"), 15.5);
  assert.equal(parseNumber(",5"), 0.5);
  assert.equal(parseNumber("1 000"), 1000);
  assert.equal(parseNumber("1\u202f000,25"), 1000.25);
  assert.equal(parseNumber("-3"), -3);
});

test("nothing typed is no value, and what is no number is not guessed at", () => {
  assert.equal(parseNumber(""), undefined);
  assert.equal(parseNumber("   "), undefined);
  for (const text of ["1.234,5", "1,2,3", "15 g", "abc", "1e3", ".", "--1", "0x10", "Infinity", "٣"]) {
    assert.ok(Number.isNaN(parseNumber(text)), text);
  }
});

const dose: Range = { min: 0.1, max: 500, usual: [3, 100], unit: "g" };

test("the impossible is refused, the surprising is questioned", () => {
  assert.deepEqual(readNumber("15,5", dose), { value: 15.5 });
  assert.match(readNumber("0", dose).error ?? "", /0\.1 to 500 g/);
  assert.match(readNumber("501", dose).error ?? "", /0\.1 to 500 g/);
  assert.equal(readNumber("200", dose).value, 200);
  assert.match((readNumber("200", dose) as { question?: string }).question ?? "", /200 g is unusual/);
  assert.match(readNumber("2.5", { ...dose, whole: true }).error ?? "", /Whole/);
  assert.equal(readNumber("", dose).error, undefined);
});

test("a score is a factor, up or down, and a blind guess's chance is ×1", () => {
  assert.equal(formatFactor({ up: true, times: 19, bits: 4248 }), "×19");
  assert.equal(formatFactor({ up: true, times: 2.3, bits: 1202 }), "×2.3");
  assert.equal(formatFactor({ up: false, times: 3, bits: -1585 }), "÷3");
  assert.equal(formatFactor({ up: false, times: 1, bits: 0 }), "×1");
});

test("a small share is not shown as nothing", () => {
  assert.equal(plain(formatShare(0)), "0 %");
  assert.equal(plain(formatShare(10)), "<1 %");
  assert.equal(plain(formatShare(6600)), "66 %");
  assert.equal(plain(formatShare(10_000)), "100 %");
});

test("a code is spoken digit by digit", () => {
  assert.equal(spokenCode("417"), "4 1 7");
});

test("durations are minutes with seconds, or seconds", () => {
  assert.equal(parseDuration("2:40"), 160);
  assert.equal(parseDuration("160"), 160);
  assert.equal(parseDuration(" 0:05 "), 5);
  assert.equal(parseDuration(""), undefined);
  for (const text of ["2:60", "2.40", "2m", "-5", ":30"]) assert.ok(Number.isNaN(parseDuration(text)), text);
});

test("a clock shows minutes, and hours when there are any", () => {
  assert.equal(formatClock(0), "0:00");
  assert.equal(formatClock(52_900), "0:52");
  assert.equal(formatClock(727_000), "12:07");
  assert.equal(formatClock(3_723_000), "1:02:03");
  assert.equal(formatClock(-5), "0:00");
});
