import assert from "node:assert/strict";
import { test } from "node:test";
import type { BrewMarked, Plan, PlanStep } from "../ui/gen/types.ts";
import { bandAt, bandsOf, before, gramsAt, missed, nextOf, slidAt, touchAt, touchesOf, withinOf } from "../ui/model/guide.ts";
import { momentsOf } from "../ui/screens/brewcues.ts";
import { spoken } from "../ui/screens/brewguidenumbers.tsx";

const step = (kind: PlanStep["kind"], at: number, until: number, adds = 0, to = 0): PlanStep => ({ kind, at, until, adds, to, flow: 0, pattern: "", times: 0 });

/** Bloom to 40 g, swirl, pour to 140 g and to 240 g, drain. */
const plan: Plan = {
  steps: [
    step("rinse", -60, 0),
    step("bloom", 0, 10, 40, 40),
    step("swirl", 10, 0),
    step("pour", 40, 60, 100, 140),
    step("pour", 80, 100, 100, 240),
    step("drain", 100, 180),
  ],
  dose: 15, water: 240, bypass: 0, beverage: 210, kettle: 92, capped: false, ends: 180,
};

const mark = (what: BrewMarked["mark"], number: number, at: number): BrewMarked => ({ mark: what, step: number, at, grams: 0 });

test("the strip has every step, and bare paper where nothing is to be done", () => {
  const bands = bandsOf(plan);
  assert.deepEqual(bands.map(({ kind, from, until }) => `${kind} ${from}-${until}`), ["bloom 0-10", "swirl 10-40", "pour 40-60", "wait 60-80", "pour 80-100", "drain 100-180"]);
  assert.deepEqual(before(plan).map(({ kind }) => kind), ["rinse"]);
});

test("a pour is as long as its grams, anything else as its seconds, and the strip never runs back", () => {
  const bands = bandsOf(plan);
  const [bloom, , pour, , , drain] = bands;
  assert.equal(pour!.length / bands[4]!.length, 1);
  assert.ok(pour!.length > bloom!.length);
  assert.ok(drain!.length > bands[3]!.length);
  let last = -1;
  for (let seconds = 0; seconds <= 200; seconds += 0.5) {
    const slid = slidAt(bands, seconds);
    assert.ok(slid >= last, `${slid} after ${last} at ${seconds}`);
    last = slid;
  }
  assert.equal(slidAt(bands, 50), pour!.top + pour!.length / 2);
  assert.equal(last, drain!.top + drain!.length);
});

test("the weight to reach grows with the pour", () => {
  const pour = bandsOf(plan)[2]!;
  assert.equal(gramsAt(pour, 40), 40);
  assert.equal(gramsAt(pour, 50), 90);
  assert.equal(gramsAt(pour, 70), 140);
  assert.equal(nextOf(bandsOf(plan), 2)?.to, 240);
  assert.equal(bandAt(bandsOf(plan), 180), -1);
});

test("one touch records what comes, in its time and in its order", () => {
  const touches = touchesOf(plan);
  const at = (seconds: number, ...marks: BrewMarked[]) => {
    const { mark: what, step: number } = touchAt(touches, marks, seconds);
    return `${what} ${number}`;
  };
  assert.equal(at(3), "poured 2");
  assert.equal(at(3, mark("poured", 2, 3)), "swirl 3");
  assert.equal(at(12, mark("poured", 2, 9), mark("swirl", 3, 12)), "pour 4");
  assert.equal(at(42, mark("swirl", 3, 12)), "pour 4"); // a late hand
  assert.equal(at(52, mark("swirl", 3, 12)), "poured 4"); // it pours, and has not said so
  assert.equal(at(66, mark("pour", 4, 41)), "poured 4"); // a slow pour
  assert.equal(at(76, mark("pour", 4, 41)), "pour 5");
  assert.equal(at(300), "end 6");
  assert.equal(touches.find((touch) => touch.mark === "poured" && touch.step === 4)?.grams, 140);
});

test("a plan that ends with no drawdown still has a stop", () => {
  const bypassed = touchesOf({ ...plan, steps: [step("pour", 0, 15, 180, 180), step("press", 110, 140), step("bypass", 145, 0, 60)] });
  assert.deepEqual(bypassed.map((touch) => touch.mark), ["poured", "press", "bypass", "end"]);
});

test("as planned within the worst of the touches", () => {
  const touches = touchesOf(plan);
  assert.equal(withinOf(touches, [mark("start", 0, 0)]), undefined);
  assert.equal(withinOf(touches, [mark("poured", 2, 12), mark("pour", 4, 37)]), 3);
});

test("what was missed is what began, or was poured, while nobody looked", () => {
  const bands = bandsOf(plan);
  assert.deepEqual(missed(bands, 15, 65).map(({ step: number }) => number), [4]);
  assert.deepEqual(missed(bands, 45, 90).map(({ step: number }) => number), [4, 5]);
  assert.deepEqual(missed(bands, 62, 70), []);
});

test("each sound has its words: what is spoken changes with it", () => {
  const bands = bandsOf(plan);
  const at = (seconds: number) => {
    const now = bandAt(bands, seconds);
    return spoken(bands[now], bands[now] && nextOf(bands, now), false);
  };
  const moments = momentsOf(bands);
  assert.deepEqual(moments.map((moment) => `${moment.cue} ${moment.at}`), ["start 10", "start 40", "stop 60", "start 80", "start 100"]);
  for (const moment of moments) assert.notEqual(at(moment.at - 0.5), at(moment.at + 0.5), `${moment.cue} at ${moment.at}`);
  for (const quiet of [20, 39, 50, 70, 120]) assert.equal(at(quiet), at(quiet + 0.5), `nothing is to be said at ${quiet}`);
});
