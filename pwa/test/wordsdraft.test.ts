import assert from "node:assert/strict";
import { test } from "node:test";
import { withTyped } from "../ui/model/wordsdraft.ts";

test("what is typed is parted by commas of any script, each word once", () => {
  assert.deepEqual(withTyped(["rose"], "honey,  dried fig ,,rose"), ["rose", "honey", "dried fig"]);
  assert.deepEqual(withTyped([], "ياسمين، عسل"), ["ياسمين", "عسل"]);
  assert.deepEqual(withTyped(["rose"], "  "), ["rose"]);
});
