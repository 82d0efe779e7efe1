// The phone's disk: one IndexedDB database with one store of records, string key to bytes. What the bytes mean is the
// core's business.
//
// "Saved" is a readwrite transaction that has completed with durability "strict", nothing less. Writes are carried out in
// the order in which they came; those that wait while one is under way go out together in the next transaction, so each is
// still all or nothing. Inside every write transaction the owner number is compared: a worker whose books another tab has
// taken over writes nothing more, even if it has not noticed yet.

import { openDB, type DBSchema, type IDBPDatabase, type IDBPObjectStore, type StoreNames } from "idb";
import type { StoredRecord } from "./core.ts";

interface Schema extends DBSchema {
  records: { key: string; value: Uint8Array };
  owner: { key: string; value: number };
}

/** Another tab has taken the books over: this worker must stop. */
export class Stale extends Error {}

/** Why a write was not saved: "disk-full" or "storage-failed". */
export type FailCode = "disk-full" | "storage-failed";

export interface Write {
  puts: StoredRecord[];
  deletes: string[];
}

export type Outcome = { saved: true } | { saved: false; code: FailCode };

/** Keys that begin so are read on demand; all others are handed to the core when it starts. */
const COLD = "cold/";
/** Of those, keys that begin so are asked for one after another by a start: the first who asks reads them all. */
const SOON = "cold/app/brews/";
const PROBE_MS = 2000;

interface Waiting {
  write: Write;
  resolve(outcome: Outcome): void;
  reject(reason: unknown): void;
}

export class Storage {
  #db: IDBPDatabase<Schema> | undefined;
  #owner = 0;
  #raised = false; // the owner number stands in the database
  #waiting: Waiting[] = [];
  #flushing: Promise<void> | undefined;
  #soon: Promise<StoredRecord[]> | undefined; // all that begin with SOON
  #ahead = true; // they may be read at once; the first write ends that
  #taken: Promise<StoredRecord[]> | undefined; // what hot is asked for first was read when the books were taken over

  private constructor(readonly name: string) {}

  /**
   * Opens the database and raises the owner number: from now on only this worker writes. What a start needs is read meanwhile,
   * in the same transaction, so that no other worker can have written in between.
   */
  static async takeOver(name: string): Promise<Storage> {
    const storage = new Storage(name);
    const db = await storage.#open();
    const tx = db.transaction(["owner", "records"], "readwrite", { durability: "strict" });
    tx.done.catch(() => {}); // heard below
    storage.#taken = hotOf(tx.objectStore("records"));
    storage.#taken.catch(() => {}); // then it is read again
    const owner = tx.objectStore("owner");
    storage.#owner = ((await owner.get("owner")) ?? 0) + 1;
    try {
      owner.put(storage.#owner, "owner").catch(() => {}); // only done decides
      await tx.done;
      storage.#raised = true;
    } catch (reason) {
      // a full disk takes not even a number: what is there can be read, and the first write that finds room raises it
      if (failCode(reason) !== "disk-full") throw reason;
    }
    return storage;
  }

  async #open(): Promise<IDBPDatabase<Schema>> {
    if (this.#db) return this.#db;
    const db = await openDB<Schema>(this.name, 1, {
      upgrade(fresh) {
        fresh.createObjectStore("records");
        fresh.createObjectStore("owner");
      },
      blocking: () => this.#forget(),
      terminated: () => (this.#db = undefined),
    });
    this.#db = db;
    return db;
  }

  #forget(): void {
    this.#db?.close();
    this.#db = undefined;
  }

  /** Asks the handle a small question; one that does not answer (a phone that slept) is replaced. */
  async probe(): Promise<void> {
    if (!this.#db) return;
    const db = this.#db;
    const late = new Promise<never>((_, reject) => setTimeout(() => reject(new Error("late")), PROBE_MS));
    try {
      await Promise.race([db.get("owner", "owner"), late]);
    } catch {
      if (this.#db === db) this.#forget();
    }
  }

  /** All records that the core holds in memory. */
  async hot(): Promise<StoredRecord[]> {
    const taken = await this.#taken?.catch(() => undefined);
    this.#taken = undefined;
    return taken ?? this.#retry((db) => hotOf(db.transaction("records").store));
  }

  /** Reads after every write that was asked for before. */
  async read(keys: string[], prefix?: string, last = prefix): Promise<StoredRecord[]> {
    const ahead = prefix?.startsWith(SOON) ? this.#readAhead() : undefined; // now: a write that comes next ends it
    if (this.#flushing) await this.#flushing; // else no turn is lost: what was asked for first is read first
    if (ahead && prefix !== undefined && last !== undefined) {
      const soon = await ahead.catch(() => undefined);
      await turn(); // what the page says meanwhile has its turn as well
      if (soon) return soon.filter(({ key }) => key >= prefix && key < afterPrefix(last));
    }
    if (prefix !== undefined) return this.#range(prefixRange(prefix, last));
    return this.#retry(async (db) => {
      const tx = db.transaction("records");
      const values = await Promise.all(keys.map((key) => tx.store.get(key)));
      const found: StoredRecord[] = [];
      keys.forEach((key, i) => {
        const value = values[i];
        if (value) found.push({ key, value });
      });
      return found;
    });
  }

  #readAhead(): Promise<StoredRecord[]> | undefined {
    if (this.#ahead && !this.#soon) {
      this.#soon = this.#range(prefixRange(SOON));
      this.#soon.catch(() => {}); // whoever asks reads again
    }
    return this.#soon;
  }

  #range(range: IDBKeyRange): Promise<StoredRecord[]> {
    return this.#retry((db) => recordsIn(db.transaction("records").store, range));
  }

  /** Saves. The answer comes when it is on the disk, or says why it is not; Stale is thrown when it must not be. */
  persist(write: Write): Promise<Outcome> {
    this.#ahead = false;
    this.#soon = this.#taken = undefined;
    return new Promise((resolve, reject) => {
      this.#waiting.push({ write, resolve, reject });
      this.#flushing ??= this.#flush();
    });
  }

  /** Waits until nothing is on its way to the disk. */
  async settled(): Promise<void> {
    while (this.#flushing) await this.#flushing;
  }

  async #flush(): Promise<void> {
    await undefined; // so that the caller has noted that a flush is under way
    while (this.#waiting.length > 0) {
      const group = this.#waiting;
      this.#waiting = [];
      try {
        await this.#retry((db) => this.#commit(db, group.map((each) => each.write)));
        for (const each of group) each.resolve({ saved: true });
      } catch (reason) {
        for (const each of group) {
          if (reason instanceof Stale) each.reject(reason);
          else each.resolve({ saved: false, code: failCode(reason) });
        }
      }
    }
    // in the same turn in which nothing was found waiting: a write that comes after it starts a flush of its own
    this.#flushing = undefined;
  }

  async #commit(db: IDBPDatabase<Schema>, writes: Write[]): Promise<void> {
    const tx = db.transaction(["records", "owner"], "readwrite", { durability: "strict" });
    // idb rejects done as well as the request that failed; only done decides, so the others are heard and let go
    const done = tx.done;
    done.catch(() => {});
    const owner = tx.objectStore("owner");
    const records = tx.objectStore("records");
    const quietly = (request: Promise<unknown>) => void request.catch(() => {});
    try {
      // asked for before the writes, so answered before them; they need not wait for it, since only then is anything committed
      const before = owner.get("owner");
      quietly(before);
      if (!this.#raised) quietly(owner.put(this.#owner, "owner"));
      for (const write of writes) {
        for (const key of write.deletes) quietly(records.delete(key));
        for (const { key, value } of write.puts) quietly(records.put(value, key));
      }
      if (((await before) ?? 0) !== (this.#raised ? this.#owner : this.#owner - 1)) throw new Stale("another tab has the books");
      tx.commit();
    } catch (reason) {
      // stale, or a put that throws at once (a value that cannot be stored), leaves the transaction open: nothing of it may stay
      try {
        tx.abort();
      } catch {
        // it has aborted itself
      }
      await done.catch(() => {});
      throw reason;
    }
    await done;
    this.#raised = true;
  }

  /** A handle may die under us (a phone that slept): writing the same again on a fresh one changes nothing. */
  async #retry<T>(work: (db: IDBPDatabase<Schema>) => Promise<T>): Promise<T> {
    const db = await this.#open();
    try {
      return await work(db);
    } catch (reason) {
      if (reason instanceof Stale || failCode(reason) === "disk-full") throw reason;
      if (this.#db === db) this.#forget();
      return work(await this.#open());
    }
  }

  close(): void {
    this.#forget();
  }
}

type Records = IDBPObjectStore<Schema, StoreNames<Schema>[], "records", IDBTransactionMode>;

async function hotOf(store: Records): Promise<StoredRecord[]> {
  const below = recordsIn(store, IDBKeyRange.upperBound(COLD, true));
  const above = recordsIn(store, IDBKeyRange.lowerBound(afterPrefix(COLD)));
  return (await Promise.all([below, above])).flat();
}

async function recordsIn(store: Records, range: IDBKeyRange): Promise<StoredRecord[]> {
  const [keys, values] = await Promise.all([store.getAllKeys(range), store.getAll(range)]);
  return keys.map((key, i) => ({ key, value: values[i] as Uint8Array }));
}

/** Waits until everything else that has happened by now was heard. */
function turn(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(undefined);
  });
}

function failCode(reason: unknown): FailCode {
  return (reason as { name?: string } | null)?.name === "QuotaExceededError" ? "disk-full" : "storage-failed";
}

function prefixRange(prefix: string, last = prefix): IDBKeyRange {
  return IDBKeyRange.bound(prefix, afterPrefix(last), false, true);
}

/** The first string after all that begin with prefix, in IndexedDB's order of UTF-16 units. */
export function afterPrefix(prefix: string): string {
  const last = prefix.length - 1;
  return prefix.slice(0, last) + String.fromCharCode(prefix.charCodeAt(last) + 1);
}
