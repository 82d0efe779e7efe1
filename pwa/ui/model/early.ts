// The worker is started, and what is painted first is read, before the page's own program has even been read: compiling the
// core and reading the disk take longest, and the page has plenty to do meanwhile.

import { readLastViews } from "../../worker/lastviews.ts";
import type { FromWorker } from "../../worker/messages.ts";

export interface Early {
  worker: Worker;
  /** What it said before anybody listened. */
  said: FromWorker[];
  /** It could not be loaded. */
  failed: string | undefined;
  /** What some views said last time. */
  lastViews: Promise<Map<string, unknown>>;
}

declare global {
  var hushcupEarly: Early | undefined;
}

/** Starts the one worker of this page. Which of the page's scripts runs first is the browser's choice; the second finds it. */
export function beginWorker(): Early {
  if (globalThis.hushcupEarly) return globalThis.hushcupEarly;
  performance.mark("worker asked");
  const worker = new Worker(WORKER_URL, { type: "module", name: "hushcup" });
  const early: Early = { worker, said: [], failed: undefined, lastViews: readLastViews() };
  worker.onmessage = ({ data }: MessageEvent<FromWorker[]>) => early.said.push(...data);
  worker.onerror = (event) => {
    early.failed = event.message || "worker";
  };
  globalThis.hushcupEarly = early;
  return early;
}
