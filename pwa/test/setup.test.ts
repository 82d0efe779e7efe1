import assert from "node:assert/strict";
import { test } from "node:test";
import type { BenchView, BrewSetup, CupboardView } from "../ui/gen/types.ts";
import { choosables, startOf } from "../ui/model/bowlstart.ts";
import { withUsualWater } from "../ui/model/setup.ts";

const cupboard = (away: boolean) =>
  ({
    home: { water: "w1" }, boiling: 92, recipes: [],
    waters: [{ water: { id: "w1", name: "village spring" }, kept: { away } }, { water: { id: "w2", name: "kitchen tap" }, kept: { away: false } }],
    coffees: [
      { coffee: { id: "c1", name: "lakeside", grams: 0, declared: { choice: "something", additives: ["fruit"], allergens: ["milk"], note: "" } }, kept: { away: false }, left: 0 },
      { coffee: { id: "c2", name: "valley", grams: 0, declared: { choice: "unknown", additives: [], allergens: [], note: "" } }, kept: { away: false }, left: 0 },
    ],
  }) as unknown as CupboardView;

const setup = (waterID: string, waterName: string) => ({ waterID, waterName, method: "bowl" }) as BrewSetup;
const waterOf = ({ waterID, waterName }: BrewSetup) => [waterID, waterName];

test("a brew begins with the kitchen's usual water unless another is said", () => {
  assert.deepEqual(waterOf(withUsualWater(setup("", ""), cupboard(false))), ["w1", "village spring"]);
  assert.deepEqual(waterOf(withUsualWater(setup("w2", "kitchen tap"), cupboard(false))), ["w2", "kitchen tap"]);
  assert.deepEqual(waterOf(withUsualWater(setup("", "the club's"), cupboard(false))), ["", "the club's"]);
  assert.deepEqual(waterOf(withUsualWater(setup("", ""), cupboard(true))), ["", ""], "it was put away");
});

test("bowls too, and a water that has no id keeps its name", () => {
  const bench = (last: BrewSetup) => ({ last, samples: [] }) as unknown as BenchView;
  assert.deepEqual(waterOf(startOf(bench(setup("", "")), cupboard(false))), ["w1", "village spring"]);
  assert.deepEqual(waterOf(startOf(bench(setup("", "the club's")), cupboard(false))), ["", "the club's"]);
});

test("what is declared of one's own coffee is told before it stands in a bowl", () => {
  const bench = { samples: [] } as unknown as BenchView;
  assert.deepEqual(choosables(bench, cupboard(false)).map(({ name, warn }) => [name, warn]), [["lakeside", "fruit, milk"], ["valley", ""]]);
});
