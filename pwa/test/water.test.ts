import assert from "node:assert/strict";
import { test } from "node:test";
import { factorOf, formatHardness, formatTarget } from "../ui/model/water.ts";

const units = [{ unit: "mmol/L" as const, factor: 100.087 }, { unit: "°dH" as const, factor: 17.848 }];

// An equivalent is 50.04 g of CaCO3 (Standard Methods for the Examination of Water and Wastewater, 2320 B and 2340 B): a mmol of
// calcium has two, a mmol of bicarbonate or of acid capacity one. So 20 °dH of either are 3.57 mmol/L and 7.13 mmol/L.
test("a mmol of alkalinity is half of what a mmol of hardness is", () => {
  assert.equal(factorOf(units, "mmol/L", "hardness"), 100.087);
  assert.ok(Math.abs(factorOf(units, "mmol/L", "alkalinity") - 50.04) < 0.01);
  assert.equal(formatHardness(356.96, units, "mmol/L", "hardness"), "3.6 mmol/L");
  assert.equal(formatHardness(356.96, units, "mmol/L", "alkalinity"), "7.1 mmol/L");
  assert.equal(formatTarget({ hardness: 100, alkalinity: 50, magnesium: -1 }, units, "mmol/L"), "Hardness 1 mmol/L, alkalinity 1 mmol/L");
});

test("the other units are the same for both", () => {
  assert.equal(factorOf(units, "°dH", "alkalinity"), factorOf(units, "°dH", "hardness"));
});
