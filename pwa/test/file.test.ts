import assert from "node:assert/strict";
import { test } from "node:test";
import type { DataBrew, DataPage, DataRecord, DataTaken } from "../ui/gen/types.ts";
import { collect, FileError, MAJOR, MINOR, read, readFile, takeAll, write, type Core } from "../ui/model/file.ts";

const brew = (id: string, created: number, notes = ""): DataRecord => ({
  kind: "brew",
  brew: {
    id, created, state: "done", began: created + 1000, ended: created + 170_000,
    setup: { coffee: "from the valley shop", method: "drip", dose: 15.2, water: 240, steps: [] } as unknown as DataBrew["setup"],
    used: { altitude: 2635 } as DataBrew["used"],
    marks: [{ mark: "start", at: 0, grams: 0, step: 0 }],
    outcome: { pours: [], drawdown: 170, beverage: 208, tds: 1.35, notes, asked: "", slurry: 0, bypass: 0, balance: [] },
    readings: [], absent: false, counts: true, abandoned: false, parent: "", table: "", bowl: 0,
  } as unknown as DataBrew,
});

const water: DataRecord = { kind: "water", away: true, water: { id: "b1", name: "spring below the dome", source: "label" } as DataRecord["water"] & object };

/** A core that holds records and takes what it does not know, like the real one. */
class Shelf implements Core {
  records = new Map<string, DataRecord>();
  batches = 0;
  failAt = Infinity;

  constructor(records: readonly DataRecord[] = []) {
    for (const record of records) this.records.set(idOf(record), record);
  }

  async page(after: string): Promise<DataPage> {
    const all = [...this.records.values()];
    const from = Number(after || 0);
    const records = all.slice(from, from + 2);
    return { records, more: from + 2 < all.length ? String(from + 2) : "", all: all.length, going: 0, unread: 0 };
  }

  async take(records: DataRecord[]): Promise<DataTaken> {
    if (++this.batches > this.failAt) throw new Error("disk-full");
    const taken: DataTaken = { taken: 0, known: 0, gone: 0, history: 0, less: 0, refused: [] };
    records.forEach((record, index) => {
      if (!record.kind) taken.refused.push({ index, error: { code: "unknown", text: "there is no such kind" } });
      else if (this.records.has(idOf(record))) taken.known++;
      else {
        taken.taken++;
        this.records.set(idOf(record), record);
      }
    });
    return taken;
  }
}

const idOf = (record: DataRecord) => record.brew?.id ?? record.water?.id ?? record.kind;
const text = (parts: string[]) => parts.join("");
const nothing = () => {};

test("a file that is read again says what was written", async () => {
  const records = [brew("c", 3000, "bergamot ☕, مُرّ\n\"dry\""), brew("a", 1000), water, brew("b", 2000)];
  const collected = await collect(nothing, new Shelf(records));
  assert.deepEqual(collected.records.map(idOf), ["b1", "a", "b", "c"], "items first, brews as they were made");
  const contents = read(text(await write(collected, 1_790_000_000_000)));
  assert.deepEqual(contents.head, { format: "hushcup notebook", major: MAJOR, minor: MINOR, made: 1_790_000_000_000 });
  assert.deepEqual(contents.records, collected.records);

  const other = new Shelf();
  const { taken, failed } = await takeAll(contents, nothing, other);
  assert.equal(failed, undefined);
  assert.deepEqual([taken.taken, taken.known, taken.left], [4, 0, 0]);
  const again = await collect(nothing, other);
  assert.equal(text(await write(again, 1)), text(await write(collected, 1)), "the same file again");
  assert.deepEqual((await takeAll(contents, nothing, other)).taken.known, 4, "twice makes nothing twice");
});

test("a notebook without anything is a file too", async () => {
  assert.deepEqual(read(text(await write({ records: [] }, 5))).records, []);
});

test("a file that cannot be read says why", async () => {
  const whole = text(await write({ records: [brew("a", 1000), water] }, 5));
  const fault = (broken: string) => {
    try {
      read(broken);
    } catch (reason) {
      return reason instanceof FileError ? reason.fault : reason;
    }
    return "read";
  };
  for (const length of [whole.length - 3, whole.length / 2, 60]) assert.equal(fault(whole.slice(0, length)), "cut-off", `cut at ${length}`);
  assert.equal(fault(""), "empty");
  assert.equal(fault("\ufeff \n"), "empty");
  assert.equal(fault("date,coffee\n2026-11-03,valley"), "not-json");
  assert.equal(fault("[1,2,3]"), "foreign");
  assert.equal(fault('{"brews":[]}'), "foreign");
  assert.equal(fault('{"format":"another notebook","major":1,"records":[]}'), "foreign");
  assert.equal(fault(whole.replace('"major":1', '"major":2')), "newer");
  assert.equal(fault(whole.replace('"major":1', '"major":"1"')), "foreign");
  assert.equal(fault('{"format":"hushcup notebook","major":1,"minor":0,"made":0,"records":7}'), "foreign");
  assert.equal(fault(`\ufeff${whole}`), "read");
  assert.equal(fault(whole.replace('"minor":0', '"minor":9')), "read", "a newer minor version is read");
});

test("a file that is far too large is not even read", async () => {
  const file = { size: 300 * 1024 * 1024, text: () => assert.fail("it was read") } as unknown as Blob;
  await assert.rejects(readFile(file), (reason) => reason instanceof FileError && reason.fault === "too-large");
});

test("what stops an import leaves no doubt about what came in", async () => {
  const records = Array.from({ length: 120 }, (_, index) => brew(`n${index}`, index));
  const shelf = new Shelf();
  shelf.failAt = 2;
  const { taken, failed } = await takeAll(read(text(await write({ records }, 1))), nothing, shelf);
  assert.match(String(failed), /disk-full/);
  assert.deepEqual([taken.taken, taken.left, shelf.records.size], [100, 20, 100]);
  shelf.failAt = Infinity;
  const rest = await takeAll(read(text(await write({ records }, 1))), nothing, shelf);
  assert.deepEqual([rest.taken.taken, rest.taken.known, shelf.records.size], [20, 100, 120]);
});

test("a record that is nonsense is refused by its place and harms no other", async () => {
  let deep: unknown = 1;
  for (let level = 0; level < 100_000; level++) deep = [deep];
  const nonsense: unknown[] = [null, 7, "brew", [], { kind: "brew", deep }];
  const shelf = new Shelf();
  const head = { format: "hushcup notebook", major: 1, minor: 3, made: 0 };
  const { taken } = await takeAll({ head, records: [brew("a", 1), ...nonsense, brew("b", 2)] }, nothing, shelf);
  assert.deepEqual([...shelf.records.keys()], ["a", "b"]);
  assert.deepEqual(taken.refused.map(({ index }) => index), [1, 2, 3, 4, 5]);
  assert.equal(taken.newer, true);
});

test("batches count refused records from the start of the file", async () => {
  const records: unknown[] = Array.from({ length: 60 }, (_, index) => brew(`n${index}`, index));
  records[57] = {};
  const { taken } = await takeAll({ head: { format: "", major: 1, minor: 0, made: 0 }, records }, nothing, new Shelf());
  assert.deepEqual(taken.refused.map(({ index }) => index), [57]);
});
