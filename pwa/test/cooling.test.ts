import assert from "node:assert/strict";
import { test } from "node:test";
import type { Cooling } from "../ui/gen/types.ts";
import { callNow, celsiusAt, coolingLine } from "../ui/model/cooling.ts";

const from = 1_790_000_000_000;
const at = (celsius: number) => from + (Math.log((85 - 21) / (celsius - 21)) / RATE) * 1000;
const RATE = 0.0009;

/** A cup of 85 °C in a room of 21 °C. */
const cup: Cooling = {
  room: 21,
  rate: RATE,
  from,
  start: 85,
  calls: [
    { stage: "hot", celsius: 65, at: at(65) },
    { stage: "warm", celsius: 55, at: at(55) },
    { stage: "warm", celsius: 45, at: at(45) },
    { stage: "cool", celsius: 24, at: at(24) },
  ],
};

test("the clock is Newton's law from the newest reading", () => {
  assert.equal(celsiusAt(cup, from), 85);
  assert.ok(Math.abs(celsiusAt(cup, at(55)) - 55) < 1e-6);
});

test("above 65 °C it says that it is too hot, and calls nobody", () => {
  for (let now = from; now < at(65) - 1000; now += 10_000) {
    assert.match(coolingLine(cup, now), /too hot/);
    assert.equal(callNow(cup, now), undefined);
  }
});

test("a call stands for a minute, and the next one is said beforehand", () => {
  assert.match(coolingLine(cup, at(65) + 1000), /hot notes now/);
  assert.match(coolingLine(cup, at(65) + 61_000), /warm notes in \d+ min/);
  assert.equal(callNow(cup, at(55) + 5000)?.celsius, 55);
  assert.doesNotMatch(coolingLine(cup, at(24) + 120_000), /notes/);
});
