// The typed bridge to the Go core. One function crosses it: bytes in, bytes out, both CBOR (core deterministic on the
// Go side). Effects, commands and views have their types from the Go structs; the contract is in pwa/app/bridge.go.

import * as cbor from "cborg";
import "wasm_exec";
import type { Effect, Error as CoreError, StoredRecord } from "../ui/gen/types.ts";

export type { CoreError, Effect, StoredRecord };

/** Into the core. The clock fields are added when it is handed over. */
export type Input =
  | { kind: "start"; records: StoredRecord[]; origin: string }
  | { kind: "command"; id: number; name: string; args: unknown }
  | { kind: "watch"; watch: number; view: string; args: unknown }
  | { kind: "unwatch"; watch: number }
  | { kind: "frame"; bytes: Uint8Array }
  | { kind: "connected" }
  | { kind: "disconnected" }
  | { kind: "persisted"; tx: number }
  | { kind: "persist-failed"; tx: number; code: string }
  | { kind: "got"; id: number; records: StoredRecord[] }
  | { kind: "timer"; name: string }
  | { kind: "foreground" };

/** The core has fallen over: this instance answers nothing any more. */
export class CoreStopped extends Error {}

export interface Core {
  /** Hands one input over and returns what is to be done. Throws CoreStopped when the core fell over. */
  step(input: Input): Effect[];
}

type CoreFunction = (input: Uint8Array) => unknown;
const scope = globalThis as typeof globalThis & { hushcupCore?: CoreFunction };

/**
 * Compiles once; every restart makes a new instance of the same module. What the service worker keeps is taken from its
 * cache without asking it: megabytes that need not pass through another thread. Its name says what is in it.
 */
export async function compile(url: string): Promise<WebAssembly.Module> {
  const response = (await kept(url)) ?? (await fetch(url));
  if (!response.ok) throw new Error(`the core did not load: ${response.status}`);
  if (WebAssembly.compileStreaming && response.headers.get("content-type")?.startsWith("application/wasm")) {
    return WebAssembly.compileStreaming(response);
  }
  return WebAssembly.compile(await response.arrayBuffer());
}

async function kept(url: string): Promise<Response | undefined> {
  try {
    return await caches.match(url);
  } catch {
    return undefined; // a browser that keeps nothing, as in a private window
  }
}

/** Starts an instance and waits until it has registered its function. */
export async function startCore(module: WebAssembly.Module): Promise<Core> {
  const go = new Go();
  // the first garbage is collected at 32 MB, not at 4: a start and a search make less, and what need not run need not be compiled
  go.env["GOGC"] = "800";
  delete scope.hushcupCore;
  const instance = await WebAssembly.instantiate(module, go.importObject);
  let running = true;
  void go.run(instance).finally(() => (running = false));
  const run = scope.hushcupCore as CoreFunction | undefined;
  if (!run) throw new CoreStopped("the core ended before it was ready");
  performance.mark("core started");
  return {
    step(input) {
      const bytes = encode({ ...input, now: Date.now(), mono: performance.now() });
      let out: unknown;
      try {
        out = run(bytes);
      } catch (cause) {
        throw new CoreStopped("the core fell over", { cause });
      }
      if (!running || !(out instanceof Uint8Array)) throw new CoreStopped("the core fell over");
      return (decode(out) as Effect[] | null) ?? [];
    },
  };
}

export function encode(value: unknown): Uint8Array {
  return cbor.encode(value, { ignoreUndefinedProperties: true });
}

export function decode(bytes: Uint8Array): unknown {
  return cbor.decode(bytes);
}
