// The worker: takes the lock, opens the disk, starts the core, and lets the loop run.

import { compile, startCore } from "./core.ts";
import { BooksLock } from "./lock.ts";
import { Loop } from "./loop.ts";
import type { FromWorker, ToWorker } from "./messages.ts";
import { Storage } from "./storage.ts";

const DATABASE = "hushcup";

// what follows from one input goes to the page as one list, which it draws at once
let said: FromWorker[] = [];
let silent = true;
const tell = (message: FromWorker) => {
  silent = false;
  if (said.push(message) > 1) return;
  queueMicrotask(() => {
    const list = said;
    said = [];
    postMessage(list);
  });
};
const stopped = (detail: unknown) => tell({ type: "state", state: "stopped", detail: String(detail) });

performance.mark("script read");
const starting = () => tell({ type: "state", state: "starting" });
setTimeout(() => silent && starting()); // once this script is through: what the page says before, it says to nobody until it rests

// the core compiles while the lock and the disk are waited for, also in a tab that does not have the books yet
const compiled = compile(CORE_URL);
compiled.then(() => performance.mark("core compiled"), stopped);

let loop: Loop | undefined;
let early: ToWorker[] = []; // what the page said before there was a loop
let asked = new Map<number, ToWorker>(); // what the page is looking at, for the next loop

const lock = new BooksLock({
  got: () => void begin().catch(stopped),
  elsewhere: () => tell({ type: "state", state: "elsewhere" }),
  lost: () => leave(),
});

async function begin(): Promise<void> {
  starting();
  const storage = await Storage.takeOver(DATABASE);
  loop = new Loop({
    newCore: async () => startCore(await compiled),
    storage,
    origin: location.origin,
    tell,
    stale: leave,
  });
  for (const message of asked.values()) loop.hear(message);
  for (const message of early.splice(0)) loop.hear(message);
  await loop.start();
}

function leave(): void {
  loop?.end();
  loop = undefined;
  tell({ type: "state", state: "elsewhere" });
}

self.onmessage = ({ data }: MessageEvent<ToWorker>) => {
  if (data.type === "take-over") return lock.steal();
  if (data.type === "watch") asked.set(data.watch, data);
  if (data.type === "unwatch") asked.delete(data.watch);
  if (loop) return loop.hear(data);
  if (data.type === "command") early.push(data);
};

lock.ask();
