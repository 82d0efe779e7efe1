import assert from "node:assert/strict";
import { test } from "node:test";
import type { BrewView, Mark } from "../ui/gen/types.ts";
import { nextTurn, undoable } from "../ui/model/bowls.ts";

const minute = 60_000;
const poured = 1_790_000_000_000;

/** A bowl, poured so many seconds after the first, with these marks since. */
function bowl(number: number, after: number | undefined, ...marks: [Mark, number][]): BrewView {
  const began = after === undefined ? 0 : poured + after * 1000;
  const all = after === undefined ? [] : [["start", 0] as [Mark, number], ...marks];
  return { brew: `b${number}`, bowl: number, state: after === undefined ? "planned" : "going", began, marks: all.map(([mark, at]) => ({ mark, at, grams: 0, step: 0 })) } as unknown as BrewView;
}

function turn(bowls: BrewView[], now: number): string {
  const next = nextTurn(bowls, now);
  return next ? `${next.deed} ${next.bowl.bowl}` : "";
}

test("bowls are poured one after the other, and then broken in the order of the pours", () => {
  assert.equal(turn([bowl(1, undefined), bowl(2, undefined)], poured), "pour 1");
  assert.equal(turn([bowl(1, 0), bowl(2, undefined)], poured + 5000), "pour 2");
  assert.equal(turn([bowl(1, 30), bowl(2, 0)], poured + minute), "break 2");
});

test("a crust that is due comes before the next pour", () => {
  const bowls = [bowl(1, 0), bowl(2, 20), bowl(3, undefined)];
  assert.equal(turn(bowls, poured + 3.5 * minute), "pour 3");
  assert.equal(turn(bowls, poured + 3.9 * minute), "break 1");
});

test("all crusts are broken before the first bowl is skimmed", () => {
  const now = poured + 4 * minute + 25_000;
  assert.equal(turn([bowl(1, 0, ["break", 240]), bowl(2, 20)], now), "break 2");
  assert.equal(turn([bowl(1, 0, ["break", 240]), bowl(2, 20, ["break", 245])], now), "skim 1");
});

test("nothing is tasted before its time, or while the cup is above 65 °C", () => {
  const clean = bowl(1, 0, ["break", 240], ["skim", 260]);
  assert.equal(nextTurn([clean], poured + 5 * minute)?.at, poured + 10 * minute);
  const hot = { ...clean, cooling: { room: 21, rate: 0.001, from: poured, start: 93, calls: [{ stage: "hot", celsius: 65, at: poured + 14 * minute }] } } as BrewView;
  assert.equal(nextTurn([hot], poured + 5 * minute)?.at, poured + 14 * minute);
  assert.equal(turn([bowl(1, 0, ["break", 240], ["skim", 260], ["taste", 700])], poured + 12 * minute), "");
});

test("the newest touch can be taken back for ten seconds", () => {
  const bowls = [bowl(1, 0), bowl(2, 20)];
  assert.equal(undoable(bowls, poured + 25_000)?.bowl.bowl, 2);
  assert.equal(undoable(bowls, poured + 31_000), undefined);
});
