// The first script of the page, a few kilobytes, run as soon as it is there. It starts the worker, and reads what is painted
// first, before the page's own program has even been read: compiling the core and reading the disk take longest, and the page
// has plenty to do meanwhile. The page imports it: the browser runs it once for both.

import type { FromWorker } from "../worker/messages.ts";
import { readLastViews } from "./model/lastviews.ts";
import { obstacle } from "./model/obstacle.ts";

export interface Early {
  /** The one worker of this page. */
  worker: Worker;
  /** What it said before anybody listened. */
  said: FromWorker[];
  /** It could not be loaded. */
  failed: string | undefined;
  /** It has begun, or cannot. */
  begun: Promise<void>;
  /** What some views said last time. */
  lastViews: Map<string, unknown>;
}

function begin(): Early {
  performance.mark("worker asked");
  const worker = new Worker(WORKER_URL, { type: "module", name: "hushcup" });
  // its answer is of no use: a browser opens its files for it, which the worker is about to need, and that takes longer than its start
  indexedDB.databases?.().catch(() => {});
  let begins = () => {};
  const begun = new Promise<void>((resolve) => (begins = resolve));
  const early: Early = { worker, said: [], failed: undefined, begun, lastViews: readLastViews() };
  worker.onmessage = ({ data }: MessageEvent<FromWorker[]>) => {
    early.said.push(...data);
    begins();
  };
  worker.onerror = (event) => {
    early.failed = event.message || "worker";
    begins();
  };
  return early;
}

/** Why the app cannot run here, or what was begun. */
const why = obstacle();
export const started: { why: NonNullable<typeof why> } | { why: undefined; early: Early } = why ? { why } : { why, early: begin() };
