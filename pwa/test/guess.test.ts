import assert from "node:assert/strict";
import { test } from "node:test";
import type { AtlasNode, GuessNode } from "../ui/gen/types.ts";
import { withSaid } from "../ui/model/guessdraft.ts";
import { afterKey } from "../ui/parts/linescale/linescale.tsx";
import { findNodes } from "../ui/parts/nodepicker/nodepicker.tsx";
import { likeliestFirst, visible } from "../ui/screens/guesstree.tsx";

test("saying, changing and taking back leaves the rest as it was", () => {
  let facets = withSaid([], "origin", "ethiopia", 6600);
  facets = withSaid(facets, "process", "natural", 5000);
  facets = withSaid(facets, "origin", "kenya", 800);
  facets = withSaid(facets, "origin", "ethiopia", 7000);
  const origin = facets.find((each) => each.facet === "origin");
  assert.deepEqual(
    origin?.said.toSorted((a, b) => a.node.localeCompare(b.node)),
    [{ node: "ethiopia", share: 7000 }, { node: "kenya", share: 800 }],
  );
  facets = withSaid(withSaid(facets, "origin", "ethiopia", undefined), "origin", "kenya", undefined);
  assert.deepEqual(facets, [{ facet: "process", said: [{ node: "natural", share: 5000 }] }]);
});

const tree = (node: string, parent: string, depth: number, said = -1): GuessNode => ({ node, name: node, parent, depth, leaf: false, before: 0, think: 0, said });

const origins = [
  tree("africa", "", 0),
  tree("ethiopia", "africa", 1),
  tree("guji", "ethiopia", 2),
  tree("kenya", "africa", 1),
  tree("asia", "", 0),
  tree("sumatra", "asia", 1),
];

const names = (nodes: GuessNode[]) => nodes.map((node) => node.node);

test("at first only the top of the tree is in sight", () => {
  assert.deepEqual(names(visible(origins, "")), ["africa", "asia"]);
});

test("an open name shows what is under it and beside its way", () => {
  assert.deepEqual(names(visible(origins, "africa")), ["africa", "ethiopia", "kenya", "asia"]);
  assert.deepEqual(names(visible(origins, "ethiopia")), ["africa", "ethiopia", "guji", "kenya", "asia"]);
});

test("what was said is never hidden", () => {
  const said = origins.map((node) => (node.node === "guji" ? { ...node, said: 3000 } : node));
  assert.deepEqual(names(visible(said, "")), ["africa", "ethiopia", "guji", "kenya", "asia"]);
});

test("a line scale is empty until it is touched, and can be emptied again", () => {
  assert.equal(afterKey("Tab", undefined), undefined);
  assert.equal(afterKey("ArrowRight", undefined), 52);
  assert.equal(afterKey("Home", 40), 0);
  assert.equal(afterKey("ArrowLeft", 1), 0);
  assert.equal(afterKey("PageUp", 95), 100);
  assert.equal(afterKey("Delete", 40), undefined);
});

const place = (name: string, ...also: string[]): AtlasNode => ({ node: name, name, also, parent: "", depth: 0, leaf: true });

test("a search finds any name, without case and accents, beginnings first", () => {
  const nodes = [place("Nueva Segovia"), place("São Paulo"), place("Sumatra", "Sumatera"), place("pulped natural", "honey"), place("natural", "dry")];
  const found = (text: string) => findNodes(nodes, text).map((node) => node.name);
  assert.deepEqual(found("sao"), ["São Paulo"]);
  assert.deepEqual(found("SUMATE"), ["Sumatra"]);
  assert.deepEqual(found("natural"), ["natural", "pulped natural"]);
  assert.deepEqual(found("honey"), ["pulped natural"]);
  assert.deepEqual(found("seg"), ["Nueva Segovia"]);
  assert.deepEqual(found("nothing such"), []);
  assert.equal(found("").length, nodes.length);
});

test("the likeliest before tasting stand first beside each other, and what has an order keeps it", () => {
  const before: { [node: string]: number } = { africa: 2000, asia: 5000, kenya: 900, ethiopia: 600, guji: 100, sumatra: 1 };
  const nodes = origins.map((node) => ({ ...node, before: before[node.node] ?? 0 }));
  const question = { facet: "origin", asked: true, ordered: false, nodes } as const;
  assert.deepEqual(names(likeliestFirst({ ...question, nodes })), ["asia", "sumatra", "africa", "kenya", "ethiopia", "guji"]);
  assert.deepEqual(names(likeliestFirst({ ...question, nodes, ordered: true })), names(nodes));
});
