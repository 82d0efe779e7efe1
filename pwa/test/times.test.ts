import assert from "node:assert/strict";
import { test } from "node:test";
import { formatDistance, formatMoment, fromLocalInput, toLocalInput } from "../ui/model/times.ts";

// the runner sets the time zone to Vienna
const thursday = Date.UTC(2026, 10, 26, 20, 0); // 21:00 there

test("what a field shows is the person's own time, and comes back as the same moment", () => {
  assert.equal(toLocalInput(thursday), "2026-11-26T21:00");
  assert.equal(fromLocalInput("2026-11-26T21:00"), thursday);
  const summer = Date.UTC(2026, 6, 1, 19, 30);
  assert.equal(toLocalInput(summer), "2026-07-01T21:30");
  assert.equal(fromLocalInput(toLocalInput(summer)), summer);
});

test("an empty field is no moment", () => {
  assert.equal(fromLocalInput(""), undefined);
});

test("a near moment has its weekday, a far one its date, another year's its year", () => {
  const day = 24 * 60 * 60 * 1000;
  assert.match(formatMoment(thursday, thursday - 2 * day), /Thursday/);
  assert.match(formatMoment(thursday, thursday - 20 * day), /26/);
  assert.doesNotMatch(formatMoment(thursday, thursday - 20 * day), /2026/);
  assert.match(formatMoment(thursday, thursday + 90 * day), /2026/);
});

test("a distance never rounds up to a time that is not there", () => {
  const now = thursday;
  assert.equal(formatDistance(now + 30_000, now), "now");
  assert.equal(formatDistance(now + 119_000, now), "in 1 minute");
  assert.equal(formatDistance(now - 2 * 60 * 60 * 1000, now), "2 hours ago");
  assert.equal(formatDistance(now + 47 * 60 * 60 * 1000, now), "in 1 day");
});
