// One worker owns the books of this browser. A Web Lock says which: it is held for as long as the worker lives, and the
// browser gives it away when the worker ends, however it ends.

const NAME = "hushcup books";

/** A tab that is being reloaded lets go a moment after the new one asks; a real other tab keeps it longer than this. */
const RELOAD_MS = 1200;

export interface LockEvents {
  /** The lock is ours. */
  got(): void;
  /** Another tab has it, and keeps it for now; got may still follow when that tab closes. */
  elsewhere(): void;
  /** Another tab has taken it from us. */
  lost(): void;
}

export class BooksLock {
  #held = false;
  #asking: AbortController | undefined;

  constructor(readonly events: LockEvents) {}

  /** Waits in line for the lock, and says so when that takes longer than a reload would. */
  ask(): void {
    this.#asking = new AbortController();
    const late = setTimeout(() => this.events.elsewhere(), RELOAD_MS);
    this.#request({ signal: this.#asking.signal }, () => clearTimeout(late));
  }

  /** Takes the lock from whoever has it. */
  steal(): void {
    if (this.#held) return;
    this.#asking?.abort();
    this.#request({ steal: true }, () => {});
  }

  #request(options: LockOptions, answered: () => void): void {
    let mine = false;
    const hold = () => {
      answered();
      mine = this.#held = true;
      this.events.got();
      return new Promise<never>(() => {});
    };
    navigator.locks.request(NAME, options, hold).catch(() => {
      answered();
      if (!mine) return; // we stopped asking ourselves
      this.#held = false;
      this.events.lost();
    });
  }
}
