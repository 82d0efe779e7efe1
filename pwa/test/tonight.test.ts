import assert from "node:assert/strict";
import { test } from "node:test";
import { tonight } from "../ui/words.ts";

test("a flight whose title this phone has not read yet is not named", () => {
  assert.equal(tonight.placeOf(2, 4, "Autumn"), "sample 2 of 4, from Autumn");
  assert.equal(tonight.placeOf(2, 4, ""), "sample 2 of 4");
  assert.equal(tonight.openedFrom("Autumn"), "from Autumn: it is open");
  assert.equal(tonight.openedFrom(""), "it is open");
});
