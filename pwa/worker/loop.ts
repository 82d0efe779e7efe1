// The worker's main loop: one input into the core at a time, then its effects in their order. Nothing else calls the core.
//
// A write goes to the disk at once and its outcome comes back as an input; the core sends nothing that depends on it
// before. When the core falls over, this instance is thrown away, everything that was on its way to the disk is waited
// for, and a new one starts from what is saved. Commands that were under way then are answered with an error: whether
// they were saved is seen on the screen, and nothing is done twice behind the person's back.

import { CoreStopped, type Core, type CoreError, type Effect, type Input } from "./core.ts";
import type { FromWorker, ToWorker } from "./messages.ts";
import { Socket } from "./socket.ts";
import { Stale, type Storage } from "./storage.ts";
import { Timers } from "./timers.ts";

/** A core that falls over this often within a minute has no good start to come back to. */
const FALLS = 3;

/** After being away this long the socket is replaced rather than trusted. */
const DISTRUST_MS = 5000;

export interface Surroundings {
  newCore(): Promise<Core>;
  storage: Storage;
  origin: string;
  tell(message: FromWorker): void;
  /** Another tab has the books: this loop has stopped for good. */
  stale(): void;
}

interface Watch {
  shown: boolean; // at least once
  view: string;
  args: unknown;
}

export class Loop {
  #core: Core | undefined;
  #queue: Input[] = [];
  #early: Input[] = []; // commands that came before the core was up
  #draining = false;
  #ended = false;
  #watches = new Map<number, Watch>();
  #commands = new Set<number>();
  #falls: number[] = [];
  readonly #socket: Socket;
  readonly #timers: Timers;

  constructor(readonly around: Surroundings) {
    this.#socket = new Socket({
      connected: () => this.#push({ kind: "connected" }),
      disconnected: () => this.#push({ kind: "disconnected" }),
      frame: (bytes) => this.#push({ kind: "frame", bytes }),
    });
    this.#timers = new Timers((name) => this.#push({ kind: "timer", name }));
  }

  async start(): Promise<void> {
    const { newCore, storage, origin, tell } = this.around;
    const disk = storage.hot();
    void disk.then(() => performance.mark("disk read"));
    const [core, records] = await Promise.all([newCore(), disk]);
    if (this.#ended) return;
    this.#core = core;
    tell({ type: "state", state: "ready" });
    this.#push({ kind: "start", records, origin });
    performance.mark("notebook loaded");
    for (const [watch, { view, args }] of this.#watches) this.#push({ kind: "watch", watch, view, args });
    for (const input of this.#early.splice(0)) this.#push(input);
  }

  /** Ends this loop: nothing of it reaches the core, the disk or the network any more. */
  end(): void {
    this.#ended = true;
    this.#core = undefined;
    this.#queue = [];
    this.#socket.close();
    this.#timers.clear();
  }

  hear(message: ToWorker): void {
    switch (message.type) {
      case "command":
        this.#commands.add(message.id);
        return this.#ask({ kind: "command", id: message.id, name: message.name, args: message.args });
      case "watch": {
        const { watch, view, args } = message;
        this.#watches.set(watch, { shown: false, view, args });
        return this.#push({ kind: "watch", watch, view, args });
      }
      case "unwatch":
        this.#watches.delete(message.watch);
        return this.#push({ kind: "unwatch", watch: message.watch });
      case "foreground":
        return this.#foreground(message.away);
    }
  }

  /** A phone that slept may hold a dead database handle and a dead socket: both are doubted. */
  #foreground(away: number): void {
    if (away >= DISTRUST_MS) {
      void this.around.storage.probe();
      this.#socket.replace();
    }
    this.#push({ kind: "foreground" });
  }

  /** Commands wait for the core; everything else that comes before it is of no use to it. */
  #ask(input: Input): void {
    if (this.#core) this.#push(input);
    else this.#early.push(input);
  }

  #push(input: Input): void {
    if (!this.#core || this.#ended) return;
    this.#queue.push(input);
    this.#drain();
  }

  #drain(): void {
    if (this.#draining) return;
    this.#draining = true;
    try {
      for (let input = this.#queue.shift(); input && this.#core; input = this.#queue.shift()) {
        for (const effect of this.#core.step(input)) this.#carryOut(effect);
      }
    } catch (reason) {
      void this.#fell(reason);
    } finally {
      this.#draining = false;
    }
  }

  #carryOut(effect: Effect): void {
    switch (effect.kind) {
      case "persist":
        return void this.#persist(effect);
      case "read":
        return void this.#read(effect);
      case "send":
        return this.#socket.send(effect.bytes);
      case "connect":
        return this.#socket.connect(effect.url);
      case "close":
        return this.#socket.close();
      case "timer":
        return this.#timers.set(effect.name, effect.after);
      case "view":
        return this.#show(effect);
      case "done":
        return this.#done(effect.id, effect.error ?? undefined, effect.result);
      case "fatal":
        throw new CoreStopped(`${effect.code}: ${effect.text}`);
    }
  }

  async #persist({ tx, puts, deletes }: Effect & { kind: "persist" }): Promise<void> {
    const core = this.#core;
    try {
      const outcome = await this.around.storage.persist({ puts: puts ?? [], deletes: deletes ?? [] });
      if (this.#core !== core) return; // the one that asked is gone
      this.#push(outcome.saved ? { kind: "persisted", tx } : { kind: "persist-failed", tx, code: outcome.code });
    } catch (reason) {
      if (reason instanceof Stale) return this.#stale();
      throw reason;
    }
  }

  async #read({ id, keys, prefix, last }: Effect & { kind: "read" }): Promise<void> {
    const core = this.#core;
    const records = await this.around.storage.read(keys ?? [], prefix || undefined, last || undefined);
    if (this.#core === core) this.#push({ kind: "got", id, records });
  }

  #show({ watch, value, error }: Effect & { kind: "view" }): void {
    const watched = this.#watches.get(watch);
    if (!watched) return;
    if (error) return this.around.tell({ type: "view", watch, error });
    this.around.tell({ type: "view", watch, value });
    if (!watched.shown) performance.mark(`told ${watched.view}`);
    watched.shown = true;
  }

  #done(id: number, error: CoreError | undefined, result: unknown): void {
    this.#commands.delete(id);
    this.around.tell({ type: "done", id, ...(error && { error }), result });
  }

  #stale(): void {
    if (this.#ended) return;
    this.end();
    this.around.stale();
  }

  /** The core fell over: start again from the disk, unless that does not help. */
  async #fell(reason: unknown): Promise<void> {
    if (!(reason instanceof CoreStopped)) throw reason;
    console.error(reason);
    this.#core = undefined;
    this.#queue = [];
    this.#socket.close();
    this.#timers.clear();
    const error: CoreError = { code: "core-restarted", text: "" };
    for (const id of this.#commands) this.around.tell({ type: "done", id, error });
    this.#commands.clear();
    this.#early = [];
    const now = performance.now();
    this.#falls = [...this.#falls.filter((at) => now - at < 60_000), now];
    if (this.#falls.length >= FALLS) return this.around.tell({ type: "state", state: "stopped", detail: "core" });
    this.around.tell({ type: "state", state: "restarted" });
    await this.around.storage.settled();
    try {
      await this.start();
    } catch (again) {
      this.around.tell({ type: "state", state: "stopped", detail: String(again) });
    }
  }
}
