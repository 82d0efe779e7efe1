import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { reasonSentence, reasonSentences, type ReasonPackage } from "../ui/words/reasons.ts";

/** The codes that a package of the core knows, as its source declares them. */
function codes(pkg: string): string[] {
  const folder = join(process.cwd(), "core", pkg);
  const files = readdirSync(folder).filter((name) => name.endsWith(".go") && !name.endsWith("_test.go"));
  const source = files.map((name) => readFileSync(join(folder, name), "utf8")).join("\n");
  return [...source.matchAll(/^\s*Reason\w+\s*=\s*"([^"]+)"/gm)].map(([, code]) => code!);
}

const packages = Object.keys(reasonSentences) as ReasonPackage[];

test("every reason that the core gives has a sentence, and no sentence is without one", () => {
  for (const pkg of packages) {
    const known = codes(pkg);
    assert.ok(known.length >= 7, `${pkg}: only ${known.length} codes were read`);
    assert.deepEqual([...new Set(known)].sort(), Object.keys(reasonSentences[pkg]).sort(), pkg);
  }
});

test("a sentence begins with a capital, ends with a full stop and has its figures in words", () => {
  for (const pkg of packages) {
    for (const code of codes(pkg)) {
      for (const n of [0, 0.4, 1, -0.31, 12]) {
        const text = reasonSentence(pkg, { code, n, of: "acid", by: "grind" });
        assert.match(text, /^[A-Z0-9-].*\.$/, `${pkg} ${code} ${n}`);
        assert.doesNotMatch(text, /undefined|NaN|\[object/, `${pkg} ${code} ${n}`);
      }
    }
  }
});

test("sentences name what they are about", () => {
  assert.equal(reasonSentence("response", { code: "most-off", n: -0.4, of: "sweet", by: "" }), "Furthest off is sweet: too little, by 40 of 100.");
  assert.equal(reasonSentence("response", { code: "known-direction", n: 0.2, of: "bitter", by: "grind" }), "The trade knows that a finer grind gives more bitter.");
  assert.equal(reasonSentence("repeat", { code: "beyond", n: 0.12, of: "tds", by: "" }), "TDS differs by 12 %: more than your brews of one recipe do. A stronger cup tastes less sweet: match the TDS to compare coffees fairly.");
  assert.equal(reasonSentence("scaling", { code: "geometry", n: 1 / 3, of: "", by: "" }), "The brewer's shape alone says so.");
  assert.equal(reasonSentence("grinder", { code: "fitted", n: 1, of: "", by: "" }), "From one brew with this grinder in this brewer.");
});
