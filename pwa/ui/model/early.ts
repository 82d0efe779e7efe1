// The worker is started before the page's own program has even been read: compiling the core and reading the disk take
// longest, and the page has plenty to do meanwhile.

import type { FromWorker } from "../../worker/messages.ts";

export interface Early {
  worker: Worker;
  /** What it said before anybody listened. */
  said: FromWorker[];
  /** It could not be loaded. */
  failed: string | undefined;
}

declare global {
  var hushcupEarly: Early | undefined;
}

/** Starts the one worker of this page. Which of the page's scripts runs first is the browser's choice; the second finds it. */
export function beginWorker(): Early {
  if (globalThis.hushcupEarly) return globalThis.hushcupEarly;
  performance.mark("worker asked");
  const early: Early = { worker: new Worker(WORKER_URL, { type: "module", name: "hushcup" }), said: [], failed: undefined };
  early.worker.onmessage = ({ data }: MessageEvent<FromWorker>) => early.said.push(data);
  early.worker.onerror = (event) => {
    early.failed = event.message || "worker";
  };
  globalThis.hushcupEarly = early;
  return early;
}
