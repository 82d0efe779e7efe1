import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { keepLastView, readLastViews, writeLastViews } from "../ui/model/lastviews.ts";

/** As a browser's: text by name, with room for so many letters. */
class Kept {
  readonly texts = new Map<string, string>();
  room = Infinity;
  getItem(name: string) {
    return this.texts.get(name) ?? null;
  }
  setItem(name: string, text: string) {
    if (text.length > this.room) throw new DOMException("full", "QuotaExceededError");
    this.texts.set(name, text);
  }
}

let kept: Kept;
const browser = (storage: PropertyDescriptor) => Object.defineProperty(globalThis, "localStorage", { configurable: true, ...storage });

beforeEach(() => {
  kept = new Kept();
  browser({ value: kept });
});

test("the last value of a view that a start shows is there for the next one", () => {
  keepLastView("tonight", undefined, { more: 1 });
  keepLastView("tonight", undefined, { more: 2 });
  keepLastView("bench", undefined, { brews: 3 });
  writeLastViews();
  assert.deepEqual([...readLastViews()], [
    ["tonight", { more: 2 }],
    ["bench", { brews: 3 }],
  ]);
});

test("it is written by itself, a moment later", async () => {
  keepLastView("bench", undefined, { brews: 4 });
  for (let tries = 0; tries < 200 && readLastViews().size === 0; tries++) await new Promise((resolve) => setTimeout(resolve, 10));
  assert.deepEqual(readLastViews().get("bench"), { brews: 4 });
});

test("other views are not kept, nor those that were asked for with arguments", () => {
  keepLastView("brews", undefined, { all: 5 });
  keepLastView("bench", { of: "another" }, { brews: 5 });
  writeLastViews();
  assert.equal(kept.texts.size, 0);
});

test("no room, none allowed, and what was cut off: a start paints without it", () => {
  kept.room = 3;
  keepLastView("tonight", undefined, { more: 1 });
  writeLastViews();
  assert.equal(readLastViews().size, 0);
  kept.room = Infinity;
  keepLastView("bench", undefined, { brews: 6 });
  writeLastViews();
  const [[name, text]] = [...kept.texts] as [[string, string]];
  kept.texts.set(name, text.slice(0, -2));
  assert.equal(readLastViews().size, 0);
  browser({
    get() {
      throw new DOMException("not here", "SecurityError");
    },
  });
  keepLastView("tonight", undefined, { more: 7 });
  writeLastViews();
  assert.equal(readLastViews().size, 0);
});
