// Bundles the tests, since this Node does not read TypeScript, and hands them to Node's own test runner.

import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

/** The worker's bridge loads the Go toolchain's script; the tests bring a core of their own. */
const noCore = {
  name: "no-core",
  setup(bundler) {
    bundler.onResolve({ filter: /^wasm_exec$/ }, ({ path }) => ({ path, namespace: "none" }));
    bundler.onLoad({ filter: /.*/, namespace: "none" }, () => ({ contents: "" }));
  },
};

const here = fileURLToPath(new URL(".", import.meta.url));
const out = mkdtempSync(join(tmpdir(), "hushcup-test-"));
try {
  const tests = readdirSync(here).filter((name) => name.endsWith(".test.ts"));
  if (tests.length === 0) throw new Error("no tests found");
  await build({
    entryPoints: tests.map((name) => join(here, name)),
    bundle: true,
    outdir: out,
    outExtension: { ".js": ".mjs" },
    format: "esm",
    platform: "node",
    target: "node20",
    jsx: "automatic",
    jsxImportSource: "preact",
    loader: { ".css": "empty" },
    define: { WORKER_URL: '"/worker.js"', CORE_URL: '"/core.wasm"' },
    plugins: [noCore],
    logLevel: "warning",
  });
  const run = spawnSync(process.execPath, ["--test", ...tests.map((name) => join(out, name.replace(/\.ts$/, ".mjs")))], {
    stdio: "inherit",
    env: { ...process.env, TZ: "Europe/Vienna", LC_ALL: "en_US.UTF-8" },
  });
  process.exitCode = run.status ?? 1;
} finally {
  rmSync(out, { recursive: true, force: true });
}
