// One's notebook as a file, and back. The format is told in FILE.md. The core gives typed records and takes them again; here
// they become JSON. Records go by pages and batches, so that thousands of brews never stop the screen.

import type { DataPage, DataRecord, DataRefused, DataTaken } from "../gen/types.ts";
import { command } from "./core.ts";

export const FORMAT = "hushcup notebook";
export const MAJOR = 1;
export const MINOR = 0;

/** Larger than any notebook: a file of this size is something else. */
const MOST_BYTES = 200 * 1024 * 1024;

const PAGE = 200;
const BATCH = 50;

export interface FileHead {
  format: string;
  major: number;
  minor: number;
  /** Milliseconds since 1970. */
  made: number;
}

/** Why a file cannot be read at all; words/data.ts says it in a sentence. */
export type FileFault = "too-large" | "empty" | "cut-off" | "foreign" | "newer" | "not-json";

export class FileError extends Error {
  constructor(readonly fault: FileFault) {
    super(fault);
  }
}

/** A pure part of what goes to the core, so that tests can bring a core of their own. */
export interface Core {
  page(after: string): Promise<DataPage>;
  take(records: DataRecord[]): Promise<DataTaken>;
}

export const core: Core = {
  page: (after) => command("data.page", { after, limit: PAGE }),
  take: (records) => command("data.take", { records }),
};

export interface Collected {
  records: DataRecord[];
  /** Brews that are left out, as their clock runs. */
  going: number;
  /** Things that are left out, as they do not open on this device. */
  unread: number;
}

/** All that a file carries, in its order: the items, the kitchen, the brews as they were planned, the cups. */
export async function collect(progress: (done: number, all: number) => void, from: Core = core): Promise<Collected> {
  const records: DataRecord[] = [];
  let going = 0;
  let unread = 0;
  let after = "";
  do {
    const page = await from.page(after);
    records.push(...page.records);
    going += page.going;
    unread += page.unread;
    after = page.more;
    progress(records.length + going + unread, page.all);
  } while (after !== "");
  return { records: inOrder(records), going, unread };
}

const kinds: readonly DataRecord["kind"][] = ["coffee", "brewer", "grinder", "water", "concentrate", "instrument", "recipe", "home", "brew", "cup"];

function inOrder(records: DataRecord[]): DataRecord[] {
  const key = ({ kind, brew, cup }: DataRecord) => brew?.created ?? cup?.opened ?? kinds.indexOf(kind);
  const byId = (record: DataRecord) => record.brew?.id ?? record.cup?.of.sample ?? itemOf(record)?.id ?? "";
  return [...records].sort((a, b) => kinds.indexOf(a.kind) - kinds.indexOf(b.kind) || key(a) - key(b) || (byId(a) < byId(b) ? -1 : 1));
}

const itemOf = (record: DataRecord): { id: string } | undefined =>
  record.coffee ?? record.brewer ?? record.grinder ?? record.water ?? record.concentrate ?? record.instrument ?? record.recipe;

/** The file's text in parts, a record a line: no string grows to the size of the whole, and the screen gets its turns. */
export async function write({ records }: Pick<Collected, "records">, made: number): Promise<string[]> {
  const head: FileHead = { format: FORMAT, major: MAJOR, minor: MINOR, made };
  const parts = [`${JSON.stringify(head).slice(0, -1)},"records":[\n`];
  for (let from = 0; from < records.length; from += PAGE) {
    const lines = records.slice(from, from + PAGE).map(line).join(",\n");
    parts.push(from === 0 ? lines : `,\n${lines}`);
    await breath();
  }
  return [...parts, "\n]}\n"];
}

const breath = () => new Promise((done) => setTimeout(done));

/** What it is comes first, for people who look into a file. */
function line({ kind, ...rest }: DataRecord): string {
  return JSON.stringify({ kind, ...rest });
}

export interface Contents {
  head: FileHead;
  /** As they stand in the file; the core checks each. */
  records: unknown[];
}

/** Reads a file's text, or throws a FileError. */
export function read(text: string): Contents {
  if (text.trim() === "") throw new FileError("empty");
  const whole = parse(text.startsWith("\ufeff") ? text.slice(1) : text);
  if (!isObject(whole) || whole.format !== FORMAT || !isCount(whole.major)) throw new FileError("foreign");
  if (whole.major > MAJOR) throw new FileError("newer");
  if (!Array.isArray(whole.records)) throw new FileError("foreign");
  const count = (value: unknown) => (isCount(value) ? value : 0);
  return { head: { format: FORMAT, major: whole.major, minor: count(whole.minor), made: count(whole.made) }, records: whole.records };
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    const ours = text.slice(0, 200).includes(`"format":"${FORMAT}"`);
    if (ours) throw new FileError("cut-off");
    throw new FileError(/^\s*[[{]/.test(text) ? "cut-off" : "not-json");
  }
}

const isObject = (value: unknown): value is { [name: string]: unknown } => typeof value === "object" && value !== null && !Array.isArray(value);
const isCount = (value: unknown): value is number => Number.isSafeInteger(value) && (value as number) >= 0;

export async function readFile(file: Blob): Promise<Contents> {
  if (file.size > MOST_BYTES) throw new FileError("too-large");
  return read(await file.text());
}

/** What a whole import came to. Left: records that were not handed over, since something stopped it. */
export interface TakenAll extends Omit<DataTaken, "refused"> {
  refused: DataRefused[];
  left: number;
  newer: boolean;
}

/** Hands the records to the core in batches. What stops it stands in `failed`; what came in before stays in, and counts. */
export async function takeAll(
  contents: Contents,
  progress: (done: number, all: number) => void,
  into: Core = core,
): Promise<{ taken: TakenAll; failed?: unknown }> {
  const all = contents.records.length;
  const taken: TakenAll = { taken: 0, known: 0, gone: 0, history: 0, less: 0, refused: [], left: all, newer: contents.head.minor > MINOR };
  for (let from = 0; from < all; from += BATCH) {
    const batch = contents.records.slice(from, from + BATCH);
    try {
      add(taken, await into.take(batch.map(cleaned) as DataRecord[]), from);
    } catch (failed) {
      return { taken, failed };
    }
    taken.left = all - from - batch.length;
    progress(from + batch.length, all);
  }
  return { taken };
}

function add(sum: TakenAll, part: DataTaken, from: number): void {
  for (const count of ["taken", "known", "gone", "history", "less"] as const) sum[count] += part[count];
  sum.refused.push(...part.refused.map((each) => ({ ...each, index: from + each.index })));
}

/** Deeper than any record goes. The bridge would stop at what is much deeper, and take the whole batch with it. */
const DEEPEST = 12;

/** A record that is no object, or nested without end, becomes an empty one, which the core refuses by its place. */
function cleaned(record: unknown): unknown {
  return isObject(record) && depth(record, DEEPEST) ? record : {};
}

function depth(value: unknown, left: number): boolean {
  if (typeof value !== "object" || value === null) return true;
  return left > 0 && Object.values(value).every((each) => depth(each, left - 1));
}
