// What page and worker say to each other. Plain objects, cloned by postMessage; the page never sees a byte of the log.

import type { Error as CoreError } from "../ui/gen/types.ts";

/** From the page. */
export type ToWorker =
  | { type: "command"; id: number; name: string; args: unknown }
  | { type: "watch"; watch: number; view: string; args: unknown }
  | { type: "unwatch"; watch: number }
  /** The page came back to the foreground, or the network came back, after so many ms. */
  | { type: "foreground"; away: number }
  /** The person wants the books in this tab, whichever tab has them. */
  | { type: "take-over" };

/** From the worker, in lists. */
export type FromWorker =
  | { type: "state"; state: WorkerState; detail?: string }
  | { type: "view"; watch: number; value?: unknown; error?: CoreError }
  | { type: "done"; id: number; error?: CoreError; result?: unknown };

/**
 * starting: the core is on its way, commands wait.
 * ready: commands are answered.
 * elsewhere: another tab of this browser has the books.
 * restarted: the core fell over and was started again from what is saved; then ready follows.
 * stopped: it cannot go on (no storage, no WebAssembly, or it fell over again and again).
 */
export type WorkerState = "starting" | "ready" | "elsewhere" | "restarted" | "stopped";
