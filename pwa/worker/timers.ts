// Named timers for the core. A name is one timer: asking again replaces it, a negative time ends it.

export class Timers {
  #running = new Map<string, ReturnType<typeof setTimeout>>();

  constructor(readonly fire: (name: string) => void) {}

  /** After so many milliseconds. */
  set(name: string, after: number): void {
    clearTimeout(this.#running.get(name));
    this.#running.delete(name);
    if (after < 0) return;
    // setTimeout takes 31 bits; a later time is asked for again when this one fires, since the core looks at its clock
    const timer = setTimeout(() => {
      this.#running.delete(name);
      this.fire(name);
    }, Math.min(after, 0x7fffffff));
    this.#running.set(name, timer);
  }

  clear(): void {
    for (const timer of this.#running.values()) clearTimeout(timer);
    this.#running.clear();
  }
}
