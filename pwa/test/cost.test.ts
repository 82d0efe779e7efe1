import assert from "node:assert/strict";
import { test } from "node:test";
import type { ResultCost } from "../ui/gen/types.ts";
import { costSentence } from "../ui/model/cost.ts";
import { plain } from "./plain.ts";

const factor = (bits: number) => ({ up: bits > 0, times: 1.2, bits });
const cost = (more: Partial<ResultCost>): ResultCost => ({
  facet: "origin", node: "origin/africa", name: "Africa and Arabia", share: 8000, cost: factor(-900), better: 0, less: factor(0), ...more,
});

test("a share on what was wrong is named, with one that would have cost less", () => {
  assert.equal(plain(costSentence(cost({ better: 5000, less: factor(-300) }))), "80 % on Africa and Arabia cost most; 50 % would have cost less.");
});

test("none at all can be the share that would have cost less", () => {
  assert.equal(plain(costSentence(cost({ share: 1000, less: factor(-10) }))), "10 % on Africa and Arabia cost most; 0 % would have cost less.");
});

test("without such a share nothing is advised", () => {
  assert.equal(plain(costSentence(cost({}))), "80 % on Africa and Arabia cost most.");
});

test("where nothing was said, no share is invented", () => {
  assert.equal(plain(costSentence(cost({ node: "", name: "", share: 0 }))), "Where from: this cost most. You said nothing on it; it follows from your other answers.");
});
