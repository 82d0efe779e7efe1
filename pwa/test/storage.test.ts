import "fake-indexeddb/auto";
import assert from "node:assert/strict";
import { test } from "node:test";
import { afterPrefix, Stale, Storage } from "../worker/storage.ts";

let made = 0;
const fresh = () => `test ${++made}`;
const bytes = (...values: number[]) => new Uint8Array(values);
const put = (key: string, ...values: number[]) => ({ puts: [{ key, value: bytes(...values) }], deletes: [] });

test("what was saved is there for the next start", async () => {
  const name = fresh();
  const first = await Storage.takeOver(name);
  assert.deepEqual(await first.persist(put("a", 1)), { saved: true });
  assert.deepEqual(await first.persist({ puts: [{ key: "b", value: bytes(2) }], deletes: ["a"] }), { saved: true });
  first.close();
  const second = await Storage.takeOver(name);
  assert.deepEqual(await second.hot(), [{ key: "b", value: bytes(2) }]);
});

test("the core starts with everything but the cold records", async () => {
  const storage = await Storage.takeOver(fresh());
  for (const key of ["book/1", "cold/1", "cold/2", "cole", "zebra", "col", "cold"]) await storage.persist(put(key, 1));
  const keys = (await storage.hot()).map((record) => record.key);
  assert.deepEqual(keys.toSorted(), ["book/1", "col", "cold", "cole", "zebra"]);
});

test("cold records are read by key or by the beginning of their key, in order", async () => {
  const storage = await Storage.takeOver(fresh());
  for (const key of ["cold/b/2", "cold/b/1", "cold/c/1", "cold/a"]) await storage.persist(put(key, key.length));
  assert.deepEqual((await storage.read([], "cold/b/")).map((record) => record.key), ["cold/b/1", "cold/b/2"]);
  assert.deepEqual((await storage.read([], "cold/a", "cold/b/")).map((record) => record.key), ["cold/a", "cold/b/1", "cold/b/2"]);
  assert.deepEqual((await storage.read(["cold/a", "cold/none"], undefined)).map((record) => record.key), ["cold/a"]);
});

test("what another worker saved while the books were taken over is there", async () => {
  for (let writes = 1; writes < 20; writes++) {
    const name = fresh();
    const first = await Storage.takeOver(name);
    const saved = new Set<string>();
    const saving = Array.from({ length: writes }, (_, i) => first.persist(put(`${i}`, i)).then(() => saved.add(`${i}`), (reason) => assert.ok(reason instanceof Stale)));
    for (let turns = 0; turns < writes; turns++) await undefined;
    const second = await Storage.takeOver(name);
    const seen = (await second.hot()).map(({ key }) => key);
    await Promise.all(saving);
    assert.deepEqual(seen.toSorted(), [...saved].toSorted(), `${writes} writes`);
  }
});

test("what was written since the books were taken over is there", async () => {
  const storage = await found("a");
  await storage.persist(put("b", 2));
  assert.deepEqual((await storage.hot()).map(({ key }) => key), ["a", "b"]);
  await storage.persist(put("c", 2));
  assert.deepEqual((await storage.hot()).map(({ key }) => key), ["a", "b", "c"]);
});

/** What a worker that starts finds: another one has written it before. */
async function found(...keys: string[]): Promise<Storage> {
  const name = fresh();
  const before = await Storage.takeOver(name);
  for (const key of keys) await before.persist(put(key, 1));
  before.close();
  return Storage.takeOver(name);
}

test("what was read ahead is what stands on the disk", async () => {
  const first = "cold/app/brews/1/";
  const storage = await found(first + "b", first + "a", "cold/app/brews/2/a", "cold/app/c");
  const read = async (prefix: string) => (await storage.read([], prefix)).map(({ key, value }) => [key, ...value]);
  assert.deepEqual(await read("cold/app/brews/2/"), [["cold/app/brews/2/a", 1]]);
  assert.deepEqual(await read("cold/app/brews/3/"), []);
  assert.deepEqual((await storage.read([], first, "cold/app/brews/2/")).map(({ key }) => key), [first + "a", first + "b", "cold/app/brews/2/a"]);
  assert.deepEqual(await read("cold/app/c"), [["cold/app/c", 1]]);
  const early = read(first); // asked before the write, so it need not know of it
  await storage.persist(put(first + "a", 2));
  assert.deepEqual(await early, [[first + "a", 1], [first + "b", 1]]);
  assert.deepEqual(await read(first), [[first + "a", 2], [first + "b", 1]]);
});

test("of what a start asks for piece by piece, the disk is asked once", async () => {
  const storage = await found("cold/app/brews/1/a", "cold/app/brews/2/a");
  const real = IDBObjectStore.prototype.getAll;
  let asked = 0;
  IDBObjectStore.prototype.getAll = function (...args) {
    asked++;
    return real.apply(this, args);
  };
  await Promise.all([storage.read([], "cold/app/brews/2/"), storage.read([], "cold/app/brews/1/")]);
  assert.equal(asked, 1);
  await storage.persist(put("cold/app/brews/2/a", 2));
  assert.deepEqual((await storage.read([], "cold/app/brews/2/")).map(({ value }) => [...value]), [[2]]);
  assert.equal(asked, 2);
  IDBObjectStore.prototype.getAll = real;
});

test("what could not be read ahead is read when it is asked for", async () => {
  const storage = await found("cold/app/brews/1/a");
  const real = IDBObjectStore.prototype.getAll;
  IDBObjectStore.prototype.getAll = () => {
    IDBObjectStore.prototype.getAll = real;
    throw new DOMException("it slept", "InvalidStateError");
  };
  assert.deepEqual((await storage.read([], "cold/app/brews/1/")).map(({ key }) => key), ["cold/app/brews/1/a"]);
});

test("writes that wait together are saved in their order", async () => {
  const storage = await Storage.takeOver(fresh());
  const writes = [put("k", 1), put("k", 2), { puts: [], deletes: ["k"] }, put("k", 3)];
  await Promise.all(writes.map((write) => storage.persist(write)));
  assert.deepEqual(await storage.read(["k"], undefined), [{ key: "k", value: bytes(3) }]);
});

test("a worker whose books were taken over writes nothing more", async () => {
  const name = fresh();
  const old = await Storage.takeOver(name);
  await old.persist(put("a", 1));
  const next = await Storage.takeOver(name);
  await assert.rejects(old.persist(put("a", 66)), Stale);
  assert.deepEqual(await next.persist(put("b", 2)), { saved: true });
  assert.deepEqual(await next.hot(), [{ key: "a", value: bytes(1) }, { key: "b", value: bytes(2) }]);
});

test("a full disk is said, nothing of the write stays, and the next write works", async () => {
  const storage = await Storage.takeOver(fresh());
  await storage.persist(put("a", 1));
  const real = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (this: IDBObjectStore, value: unknown, key?: IDBValidKey) {
    if (key === "full") throw new DOMException("no room", "QuotaExceededError");
    return real.call(this, value, key);
  };
  try {
    const write = { puts: [{ key: "a", value: bytes(9) }, { key: "full", value: bytes(1) }], deletes: [] };
    assert.deepEqual(await storage.persist(write), { saved: false, code: "disk-full" });
  } finally {
    IDBObjectStore.prototype.put = real;
  }
  assert.deepEqual(await storage.hot(), [{ key: "a", value: bytes(1) }]);
  assert.deepEqual(await storage.persist(put("b", 2)), { saved: true });
});

test("a handle that died is replaced, and the write goes through", async () => {
  const storage = await Storage.takeOver(fresh());
  await storage.persist(put("a", 1));
  const real = IDBDatabase.prototype.transaction;
  let died = 0;
  IDBDatabase.prototype.transaction = function (this: IDBDatabase, ...args: Parameters<typeof real>) {
    if (died++ === 0) throw new DOMException("the connection is closing", "InvalidStateError");
    return real.apply(this, args);
  };
  try {
    assert.deepEqual(await storage.persist(put("b", 2)), { saved: true });
  } finally {
    IDBDatabase.prototype.transaction = real;
  }
  assert.equal((await storage.hot()).length, 2);
});

test("a disk that goes on failing is said", async () => {
  const storage = await Storage.takeOver(fresh());
  const real = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = () => {
    throw new DOMException("broken", "UnknownError");
  };
  try {
    assert.deepEqual(await storage.persist(put("b", 2)), { saved: false, code: "storage-failed" });
  } finally {
    IDBDatabase.prototype.transaction = real;
  }
});

test("the first string after a prefix", () => {
  assert.equal(afterPrefix("cold/"), "cold0");
});
