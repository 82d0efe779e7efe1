import assert from "node:assert/strict";
import { test } from "node:test";
import { chooseUnits, formatTemperature, formatWeight, rangeIn, shownIn, temperature, weight, weightParts } from "../ui/model/units.ts";
import { doseLine } from "../ui/model/quantities.ts";
import { plain } from "./plain.ts";

test("grams and °C stay as they are", () => {
  chooseUnits({ weight: "g", temperature: "C" });
  assert.equal(formatWeight(15.52), "15.5\u00a0g");
  assert.deepEqual(weightParts(12_400.44, 0), { value: "12,400", unit: "g" });
  assert.equal(plain(formatWeight(240.44)), "240.4 g");
  assert.equal(plain(formatWeight(240.4, 0)), "240 g");
  assert.equal(plain(formatTemperature(92.4)), "92 °C");
  assert.deepEqual(rangeIn(weight.value, { min: 0.1, max: 500, usual: [3, 100], unit: "g" }), { min: 0.1, max: 500, usual: [3, 100], unit: "g" });
});

test("a dose is what was weighed, or else the scoops", () => {
  assert.equal(plain(doseLine({ dose: 15, scoops: 2, water: 247.5 })), "15 g to 248 g");
  assert.equal(plain(doseLine({ dose: 0, scoops: 2.5, water: 240 })), "2.5 scoops to 240 g");
  assert.equal(plain(doseLine({ dose: 0, scoops: 1, water: 0 })), "one scoop");
  assert.equal(plain(doseLine({ dose: 0, scoops: 0, water: 240 })), "");
});

// The ounce is 28.349523125 g exactly, and 100 °C are 212 °F (NIST Special Publication 811, appendix B).
test("ounces and °F are shown, and typed numbers come back as they were", () => {
  chooseUnits({ weight: "oz", temperature: "F" });
  assert.equal(plain(formatWeight(28.349523125)), "1 oz");
  assert.equal(plain(formatWeight(340)), "12 oz");
  assert.equal(plain(formatTemperature(100)), "212 °F");
  assert.equal(plain(formatTemperature(92)), "198 °F");
  for (const typed of [0.53, 0.635, 12, 35.3]) assert.equal(shownIn(weight.value, weight.value.take(typed)), typed);
  for (const typed of [176, 198, 212]) assert.equal(shownIn(temperature.value, temperature.value.take(typed)), typed);
  assert.equal(rangeIn(temperature.value, { min: 1, max: 100, unit: "°C" }).max, 212);
  chooseUnits({ weight: "g", temperature: "C" });
});

test("an unknown choice changes nothing", () => {
  chooseUnits(undefined);
  assert.equal(weight.value.name, "g");
});
