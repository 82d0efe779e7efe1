import assert from "node:assert/strict";
import { test } from "node:test";
import { about } from "../ui/words/about.ts";
import { bench } from "../ui/words/bench.ts";

// Arabica is 0.8 to 1.4 % caffeine, canephora at most 4.0 % (pwa/core/intake says from where): what is read before the first brew
// is what the plan below it then counts.
test("the cautions speak of as much caffeine as the plan of a brew counts", () => {
  const says = `15 g of arabica hold ${15 * 8} to ${15 * 14} mg`;
  for (const text of [bench.careCaffeine, about.care.map((each) => each[1]).join(" ")]) {
    assert.ok(text.includes(says), text);
    assert.ok(text.includes(`of canephora up to ${15 * 40} mg`), text);
  }
});
