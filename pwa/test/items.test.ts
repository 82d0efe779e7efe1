import assert from "node:assert/strict";
import { test } from "node:test";
import type { CoffeeItem } from "../ui/gen/types.ts";
import { coffeeAbout } from "../ui/model/items.ts";
import { plain } from "./plain.ts";

const bag = (frozen: string): CoffeeItem => ({
  coffee: {
    id: "", name: "Valley lot 3", from: "", caffeine: "regular", grams: 250, kept: 0, roasted: "2026-01-01", frozen, thawed: "", batch: "", moisture: 0, note: "",
    declared: { choice: "unknown", allergens: [], additives: [], note: "" },
  },
  kept: { away: false, brews: 0, last: 0 },
  left: 200,
  rest: 12.5,
});

test("days in the freezer are not told as days since roasting", () => {
  assert.equal(plain(coffeeAbout(bag(""))), "200 g left of 250 g, 12 days since roasting");
  assert.equal(plain(coffeeAbout(bag("2026-01-13"))), "200 g left of 250 g, 12 days of rest besides the freezer");
});
