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

export function beginWorker(): Early {
  performance.mark("worker asked");
  const early: Early = { worker: new Worker(WORKER_URL, { type: "module", name: "hushcup" }), said: [], failed: undefined };
  early.worker.onmessage = ({ data }: MessageEvent<FromWorker>) => early.said.push(data);
  early.worker.onerror = (event) => {
    early.failed = event.message || "worker";
  };
  return early;
}
