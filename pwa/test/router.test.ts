import assert from "node:assert/strict";
import { test } from "node:test";
import { fill, findRoute, match } from "../ui/model/router.ts";

test("a pattern catches its parts", () => {
  assert.deepEqual(match("/flights/:club/:flight", "/flights/ab/cd"), { club: "ab", flight: "cd" });
  assert.deepEqual(match("/", "/"), {});
  assert.deepEqual(match("/flights/", "/flights"), {});
  assert.equal(match("/flights/:club", "/flights"), undefined);
  assert.equal(match("/flights", "/flights/ab"), undefined);
  assert.equal(match("/bench", "/club"), undefined);
});

test("what is written into an address comes back out of it", () => {
  const path = fill("/club/:club", { club: "a/b c%" });
  assert.deepEqual(match("/club/:club", path), { club: "a/b c%" });
});

test("a broken address matches nothing, and does not throw", () => {
  assert.equal(match("/club/:club", "/club/%E0%A4%A"), undefined);
});

test("the first route that fits wins", () => {
  const routes = [{ pattern: "/club/new" }, { pattern: "/club/:club" }];
  assert.equal(findRoute(routes, "/club/new")?.route.pattern, "/club/new");
  assert.equal(findRoute(routes, "/club/ab")?.route.pattern, "/club/:club");
  assert.equal(findRoute(routes, "/nowhere/at/all"), undefined);
});
