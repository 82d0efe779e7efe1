import assert from "node:assert/strict";
import { test } from "node:test";
import type { RecipeStep } from "../ui/gen/types.ts";
import { canRise, gramsOf, newStep, placeFor, swapped, withGrams, withKind } from "../ui/model/recipe.ts";

const step = (kind: RecipeStep["kind"], at: number, until = 0, more: Partial<RecipeStep> = {}): RecipeStep => ({ kind, at, until, water: 0, dose: 0, pattern: "", times: 0, ...more });

const size = { dose: 15, ratio: 16 };

test("water typed as grams is kept as a share, so that another dose pours in proportion", () => {
  const pour = withGrams(step("pour", 40, 60), 144, size);
  assert.equal(pour.water, 0.6);
  assert.equal(gramsOf(pour, size), 144);
  assert.equal(gramsOf(pour, { dose: 30, ratio: 16 }), 288);
  const bloom = withGrams(step("bloom", 0, 10, { water: 0.2 }), 45, size);
  assert.deepEqual([bloom.dose, bloom.water], [3, 0]);
  assert.equal(gramsOf(bloom, { dose: 15, ratio: 20 }), 45, "a bloom goes by the dose, not by the ratio");
});

test("the last pour is all of the water, though nobody types hundredths", () => {
  assert.equal(withGrams(step("pour", 40), 200, { dose: 11, ratio: 18.18 }).water, 1);
  assert.notEqual(withGrams(step("pour", 40), 190, { dose: 11, ratio: 18.18 }).water, 1);
});

test("steps that change places keep how long they take, and the pause between them", () => {
  const [first, second] = swapped(step("pour", 40, 60), step("stir", 70, 75));
  assert.deepEqual([first.kind, first.at, first.until], ["stir", 40, 45]);
  assert.deepEqual([second.kind, second.at, second.until], ["pour", 55, 75]);
  const [moment, drain] = swapped(step("drain", 75, 165), step("swirl", 165));
  assert.deepEqual([moment.at, moment.until, drain.at, drain.until], [75, 0, 75, 165]);
});

test("nothing goes from before the clock to after it", () => {
  const steps = [step("rinse", -60), step("add", -60), step("bloom", 0, 10)];
  assert.equal(canRise(steps, 0), false);
  assert.equal(canRise(steps, 1), true);
  assert.equal(canRise(steps, 2), false);
  assert.equal(canRise(steps, 3), false);
  assert.deepEqual(swapped(steps[0]!, steps[1]!).map(({ kind, at }) => [kind, at]), [["add", -60], ["rinse", -60]]);
});

test("a new step stands where its time is", () => {
  const steps = [step("rinse", -60), step("bloom", 0, 10), step("pour", 40, 60)];
  assert.equal(placeFor("preheat", steps), 1);
  assert.equal(newStep("preheat", steps).at < 0, true);
  assert.equal(placeFor("pour", steps), 3);
  assert.deepEqual([newStep("pour", steps).at, newStep("pour", steps).until, newStep("pour", steps).water], [60, 80, 1]);
});

test("a step that becomes another one keeps what both have", () => {
  const pour = withKind(step("bloom", 0, 12, { dose: 2.5, pattern: "spiral" }), "pour");
  assert.deepEqual([pour.until, pour.pattern, pour.dose, pour.water], [12, "spiral", 0, 1]);
  assert.equal(withKind(step("pour", 40, 60, { water: 0.6 }), "stir").water, 0);
  assert.equal(withKind(step("rinse", -60), "wait").at, 0);
});
