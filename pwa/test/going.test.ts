import assert from "node:assert/strict";
import { test } from "node:test";
import type { Going } from "../ui/gen/types.ts";
import { goingRows } from "../ui/model/going.ts";

const began = 1_790_000_000_000;
const hour = 3_600_000;

const going = (what: Going["what"], more: Partial<Going> = {}): Going => ({
  book: "b", brew: "a brew", what, code: 0, coffee: "from the pass", began, next: "", at: 0, to: 0, held: false, table: "", bowl: 0, ...more,
});

test("what nobody ended comes last, without a clock, and asks", () => {
  const rows = goingRows([going("left", { brew: "old" }), going("brewing", { brew: "new", began: began + 20 * hour })], began + 20 * hour + 5000);
  assert.deepEqual(rows.map(({ left, elapsed }) => [left, elapsed]), [[false, 5000], [true, undefined]]);
  assert.match(rows[1]!.note, /is it over\?$/);
});

test("a table is left when all of its bowls are that nobody keeps, and counts only those", () => {
  const bowls = (...what: Going["what"][]) => what.map((each, i) => going(each, { brew: `${i}`, table: "t", bowl: i + 1 }));
  const row = (...what: Going["what"][]) => goingRows(bowls(...what), began + 4 * hour)[0]!;
  assert.deepEqual([row("left", "cooling", "cooling").left, row("left", "cooling", "cooling").name], [true, "1 bowl"]);
  assert.equal(row("left", "brewing").left, false);
  assert.equal(row("cooling", "cooling").left, false);
});
