import "fake-indexeddb/auto";
import assert from "node:assert/strict";
import { test } from "node:test";
import { CoreStopped, decode, encode, type Core, type Effect, type Input } from "../worker/core.ts";
import { Loop } from "../worker/loop.ts";
import type { FromWorker } from "../worker/messages.ts";
import { Storage } from "../worker/storage.ts";

const bytes = (...values: number[]) => new Uint8Array(values);

/** A core that answers as a test tells it to, and notes what it heard. */
function scripted(answer: (input: Input) => Effect[]): Core & { heard: Input[] } {
  const heard: Input[] = [];
  return {
    heard,
    step(input) {
      heard.push(input);
      return answer(input);
    },
  };
}

let made = 0;

async function loopWith(cores: Core[]) {
  const name = `loop ${++made}`;
  const told: FromWorker[] = [];
  let stale = 0;
  const storage = await Storage.takeOver(name);
  const loop = new Loop({
    newCore: async () => {
      const next = cores.shift();
      if (!next) throw new Error("no more cores");
      return next;
    },
    storage,
    origin: "https://cup.example",
    tell: (message) => told.push(message),
    stale: () => stale++,
  });
  return { loop, told, storage, name, stale: () => stale };
}

async function until(what: () => boolean, why: string): Promise<void> {
  for (let tries = 0; tries < 500; tries++) {
    if (what()) return;
    await new Promise((resolve) => setTimeout(resolve, 2));
  }
  assert.fail(`never: ${why}`);
}

const kinds = (core: { heard: Input[] }) => core.heard.map((input) => input.kind);

test("the core starts with its records, then hears what came before it was up", async () => {
  const core = scripted(() => []);
  const { loop, storage } = await loopWith([core]);
  await storage.persist({ puts: [{ key: "me", value: bytes(7) }], deletes: [] });
  loop.hear({ type: "command", id: 1, name: "club.create", args: { name: "Valley road" } });
  loop.hear({ type: "watch", watch: 2, view: "tonight", args: undefined });
  await loop.start();
  assert.deepEqual(kinds(core), ["start", "watch", "command"]);
  assert.deepEqual(core.heard[0], { kind: "start", records: [{ key: "me", value: bytes(7) }], origin: "https://cup.example" });
});

test("a command is done when its write is on the disk, not before", async () => {
  const core = scripted((input) => {
    if (input.kind === "command") return [{ kind: "persist", tx: 5, puts: [{ key: "a", value: bytes(1) }], deletes: [] }];
    if (input.kind === "persisted") return [{ kind: "done", id: 1 }];
    return [];
  });
  const { loop, told, storage } = await loopWith([core]);
  await loop.start();
  loop.hear({ type: "command", id: 1, name: "brew.mark", args: {} });
  assert.ok(!told.some((message) => message.type === "done"));
  await until(() => told.some((message) => message.type === "done"), "done");
  assert.deepEqual(await storage.read(["a"], undefined), [{ key: "a", value: bytes(1) }]);
});

test("a core that falls over is started again from the disk, and the command is answered", async () => {
  const falling = scripted((input) => {
    if (input.kind === "command") throw new CoreStopped("fell");
    return [];
  });
  const next = scripted(() => []);
  const { loop, told } = await loopWith([falling, next]);
  const quiet = console.error;
  console.error = () => {};
  try {
    loop.hear({ type: "watch", watch: 3, view: "bench", args: undefined });
    await loop.start();
    loop.hear({ type: "command", id: 1, name: "brew.save", args: {} });
    await until(() => next.heard.length >= 2, "the second core");
  } finally {
    console.error = quiet;
  }
  assert.deepEqual(kinds(next), ["start", "watch"]);
  const done = told.find((message) => message.type === "done");
  assert.equal(done?.type === "done" && done.error?.code, "core-restarted");
  assert.deepEqual(
    told.filter((message) => message.type === "state").map((message) => message.type === "state" && message.state),
    ["ready", "restarted", "ready"],
  );
});

test("a core that falls over again and again is left alone", async () => {
  const falls = () =>
    scripted((input) => {
      if (input.kind === "start") throw new CoreStopped("fell");
      return [];
    });
  const { loop, told } = await loopWith([falls(), falls(), falls(), falls()]);
  const quiet = console.error;
  console.error = () => {};
  try {
    await loop.start();
    await until(() => told.some((message) => message.type === "state" && message.state === "stopped"), "stopped");
  } finally {
    console.error = quiet;
  }
});

test("a worker that was overtaken stops at its next write", async () => {
  const core = scripted((input) => (input.kind === "command" ? [{ kind: "persist", tx: 1, puts: [{ key: "a", value: bytes(66) }], deletes: [] }] : []));
  const { loop, name, stale } = await loopWith([core]);
  await loop.start();
  const next = await Storage.takeOver(name);
  loop.hear({ type: "command", id: 1, name: "brew.save", args: {} });
  await until(() => stale() === 1, "stale");
  assert.deepEqual(await next.hot(), []);
  const heard = core.heard.length;
  loop.hear({ type: "command", id: 2, name: "brew.save", args: {} });
  assert.equal(core.heard.length, heard);
});

test("whole numbers cross the bridge as integers, bytes as bytes, and what is not set not at all", () => {
  const now = 1_795_000_000_123;
  const sent = encode({ now, dose: 15, share: 0.25, left: undefined, bytes: bytes(1, 2) });
  const hex = Buffer.from(sent).toString("hex");
  assert.ok(hex.includes("1b" + now.toString(16).padStart(16, "0")), "now is a 64-bit integer");
  assert.ok(hex.includes("420102"), "a plain byte string");
  const came = decode(sent) as { bytes: Uint8Array };
  assert.deepEqual({ ...came, bytes: new Uint8Array(came.bytes) }, { now, dose: 15, share: 0.25, bytes: bytes(1, 2) });
});
