import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { limits } from "../ui/gen/limits.ts";
import { impossible, pour, surprising } from "../ui/words/errors.ts";
import { plain } from "./plain.ts";

test("a question about a number says what is usual, in its unit", () => {
  const asked: [name: string, field: string, why: string, limit: number, says: string][] = [
    ["Dose", "dose", "too-much", 80, "Dose: more than 80 g is unusual. Is it right?"],
    ["Dose", "dose", "too-little", 4, "Dose: less than 4 g is unusual. Is it right?"],
    ["Ratio", "ratio", "too-much", 25, "Ratio: more than 1:25 is unusual. Is it right?"],
    ["Kettle", "kettle", "above-boiling", 91.28, "Kettle: at your home water boils at about 91 °C. Is this right, and the altitude of your home?"],
    ["TDS", "tds", "too-much", 2.5, "TDS: more than 2.5 % is unusual. Is it right?"],
    ["In the cup", "beverage", "more-than-went-in", 240, "In the cup: more than the 240 g of water that went in. Is it right?"],
    ["Drawdown", "drawdown", "too-much", 1800, "Drawdown: more than 30:00 is unusual. Is it right?"],
    ["Scoops", "scoops", "", 0, "Scoops: this is unusual. Is it right?"],
  ];
  for (const [name, field, why, limit, says] of asked) assert.equal(plain(surprising(name, field, why, limit).text), says);
});

test("a refusal of a number says what could be, in its unit", () => {
  const refused: [name: string, field: string, why: string, limit: number, says: string][] = [
    ["Dose", "dose", "too-little", 0.3, "Dose: less than 0.3 g cannot be."],
    ["Water", "water", "too-much", 10_000, "Water: more than 10,000 g cannot be."],
    ["Kettle", "kettle", "above-boiling", 102, "Kettle: water gets no hotter than 102 °C anywhere in an open kettle."],
    ["TDS", "tds", "too-little", 0.05, "TDS: less than 0.05 % cannot be."],
    ["TDS with this dose and water", "extraction", "too-much", 45, "TDS with this dose and water: more than 45 % of the coffee in the cup cannot be."],
    ["In the cup", "beverage", "more-than-went-in", 245, "In the cup: no more than 245 g can come of this dose and water."],
    [pour(2), "pours.2", "backwards", 30_000, "Pour 3: it begins before the pour above it, or ends with less."],
    ["Filter", "filter", "", 0, "Filter: this cannot be empty."],
  ];
  for (const [name, field, why, limit, says] of refused) assert.equal(plain(impossible(name, field, "This cannot be empty.", why, limit).text), says);
});

test("every finding of the core has a sentence of its own", () => {
  const source = readFileSync("core/brewing/check.go", "utf8");
  const codes = [...source.matchAll(/^\s*Code\w+\s*=\s*"([^"]+)"/gm)].map(([, code]) => code!);
  assert.equal(codes.length, 6);
  for (const code of codes) assert.doesNotMatch(impossible("Dose", "dose", "Not worded.", code, 1).text, /worded/, code);
});

test("fields ask by the bounds of the core", () => {
  assert.deepEqual(limits.dose, { min: 0.3, max: 1000, usual: [4, 80] });
  assert.deepEqual(limits.tds, { min: 0.05, max: 30, usual: [0.7, 2.5] });
  assert.deepEqual(limits.kettle, { min: 1, max: 102, usual: [60, 102] });
});
