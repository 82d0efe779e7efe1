// The last value of the few views that a start shows first. The worker writes them, the page paints them before the core
// is up. A database of its own: it is opened without waiting for the books, and losing it loses nothing.

import { openDB, type DBSchema } from "idb";

interface Schema extends DBSchema {
  views: { key: string; value: unknown };
}

/** Views worth keeping, without arguments. */
export const KEPT = new Set(["tonight", "bench"]);

const open = () =>
  openDB<Schema>("hushcup-lastviews", 1, {
    upgrade(db) {
      db.createObjectStore("views");
    },
  });

/** All of them, by name. */
export async function readLastViews(): Promise<Map<string, unknown>> {
  const views = new Map<string, unknown>();
  try {
    const db = await open();
    try {
      const { store } = db.transaction("views");
      await Promise.all([...KEPT].map(async (name) => views.set(name, await store.get(name))));
    } finally {
      db.close();
    }
  } catch {
    // only a first paint is lost
  }
  return views;
}

/** Writes at a slow beat: only the last value within it matters. */
export class LastViews {
  #waiting = new Map<string, unknown>();
  #timer: ReturnType<typeof setTimeout> | undefined;

  keep(name: string, value: unknown): void {
    this.#waiting.set(name, value);
    this.#timer ??= setTimeout(() => void this.#write(), 400);
  }

  async #write(): Promise<void> {
    this.#timer = undefined;
    const values = [...this.#waiting];
    this.#waiting.clear();
    try {
      const db = await open();
      try {
        const tx = db.transaction("views", "readwrite");
        for (const [name, value] of values) void tx.store.put(value, name).catch(() => {});
        await tx.done;
      } finally {
        db.close();
      }
    } catch {
      // a full disk: the next start paints an older value or none
    }
  }
}
