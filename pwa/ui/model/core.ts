// The page's side of the core: commands go out, views come in. The page holds no state of the domain; a view is whatever
// the core last said.

import { batch, signal, type Signal } from "@preact/signals";
import { useEffect, useMemo } from "preact/hooks";
import type { Commands, Error as CoreError, Views } from "../gen/types.ts";
import type { FromWorker, ToWorker, WorkerState } from "../../worker/messages.ts";
import * as words from "../words.ts";
import type { Early } from "../early.ts";
import { keepLastView } from "./lastviews.ts";

/** A refusal, in words for the person. */
export class Refusal extends Error {
  constructor(
    readonly code: string,
    readonly text: string,
    readonly hint: string,
    readonly field: string,
  ) {
    super(`${code}: ${text}`);
  }
}

/** How the worker is; the shell shows everything but ready. */
export const workerState = signal<WorkerState>("starting");
export const stopDetail = signal("");

/** A view keeps its last value this long after the last screen has left it: back is immediate. */
const LINGER_MS = 10_000;

interface Watched {
  id: number;
  view: string;
  args: unknown;
  value: Signal<unknown>;
  error: Signal<Refusal | undefined>;
  users: number;
  leaving: ReturnType<typeof setTimeout> | undefined;
  /** The core has answered since the start: the value is not one remembered from last time. */
  fresh: boolean;
}

interface Pending {
  resolve(result: unknown): void;
  reject(refusal: Refusal): void;
}

let worker: Worker | undefined;
let last = 0;
const pending = new Map<number, Pending>();
const watched = new Map<string, Watched>();
const byId = new Map<number, Watched>();

/** Listens to the worker that was begun. */
export function hearWorker(early: Early): void {
  worker = early.worker;
  worker.onmessage = ({ data }: MessageEvent<FromWorker[]>) => hearAll(data);
  worker.onerror = (event) => stopped(event.message || "worker");
  hearAll(early.said);
  if (early.failed !== undefined) stopped(early.failed);
}

function stopped(detail: string): void {
  stopDetail.value = detail;
  workerState.value = "stopped";
}

export function post(message: ToWorker): void {
  worker?.postMessage(message);
}

function hearAll(messages: FromWorker[]): void {
  batch(() => messages.forEach(hear));
}

function hear(message: FromWorker): void {
  switch (message.type) {
    case "state":
      if (message.state === "ready") performance.mark("ready"); // measured by the benchmarks, as "painted" is
      stopDetail.value = message.detail ?? "";
      workerState.value = message.state;
      return;
    case "view": {
      const entry = byId.get(message.watch);
      if (!entry) return;
      if (!entry.fresh) performance.mark(`heard ${entry.view}`);
      entry.fresh = true;
      entry.error.value = message.error && refusalOf(message.error);
      if (message.error) return;
      entry.value.value = message.value;
      keepLastView(entry.view, entry.args, message.value);
      return;
    }
    case "done": {
      const waiting = pending.get(message.id);
      pending.delete(message.id);
      if (message.error) waiting?.reject(refusalOf(message.error));
      else waiting?.resolve(message.result);
    }
  }
}

/** The catalogue's words for a code come first; the core's own sentence stands in for those that it lacks. */
function refusalOf({ code, text, hint, field = "", why, limit }: CoreError): Refusal {
  const name = fieldName(field);
  const own =
    code === "surprising" ? words.surprising(name, field, why, limit) : code === "impossible" && name ? words.impossible(name, field, sentence(text), why, limit) : words.errors[code];
  return new Refusal(code, own?.text ?? sentence(text), own ? own.hint : hint ? sentence(hint) : "", field);
}

/** "answer.altitudeLow" is named by its last part, "pours.2" by its place. */
function fieldName(field: string): string {
  const part = field.split(".").at(-1)!;
  return field.startsWith("pours.") ? words.pour(Number(part)) : (words.fields[part] ?? "");
}

/** The core's errors are fragments; on the screen stand sentences. */
function sentence(text: string): string {
  if (text === "") return words.errors.unknown!.text;
  const end = /[.?:]$/.test(text) ? "" : ".";
  return text[0]!.toUpperCase() + text.slice(1) + end;
}

/** Sends a command. Resolves when what it changed is saved on this device; rejects with a Refusal. */
export function command<K extends keyof Commands>(name: K, args: Commands[K]["args"]): Promise<Commands[K]["result"]> {
  const id = ++last;
  return new Promise((resolve, reject) => {
    pending.set(id, { resolve: resolve as (result: unknown) => void, reject });
    post({ type: "command", id, name: name as string, args });
  });
}

/** A watched view: value is undefined until the core has said something, error says why it cannot be shown. */
export interface Seen<V> {
  value: V | undefined;
  error: Refusal | undefined;
  /** False while the value is one remembered from the last start. */
  fresh: boolean;
}

/** Watches a view for as long as the component is on the screen, and draws it again when it changes. */
export function useView<K extends keyof Views>(view: K, args?: Views[K]["params"]): Seen<Views[K]["value"]> {
  const key = keyOf(view, args);
  const watching = useMemo(() => entryOf(key, view, args), [key]);
  useEffect(() => {
    const entry = entryOf(key, view, args);
    entry.users++;
    clearTimeout(entry.leaving);
    return () => {
      if (--entry.users === 0) entry.leaving = setTimeout(() => leave(key, entry), LINGER_MS);
    };
  }, [key]);
  return { value: watching.value.value as Views[K]["value"] | undefined, error: watching.error.value, fresh: watching.fresh };
}

/** Asks for a view that a screen will watch in a moment. It is kept as long as one that a screen has just left. */
export function ask<K extends keyof Views>(view: K, args: Views[K]["params"]): void {
  entryOf(keyOf(view, args), view, args);
}

/** What a view that has no arguments said last, without watching it. */
export function lastSaid<K extends keyof Views>(view: K): Views[K]["value"] | undefined {
  return watched.get(keyOf(view))?.value.peek() as Views[K]["value"] | undefined;
}

function keyOf(view: string, args?: unknown): string {
  return `${view} ${JSON.stringify(args ?? null)}`;
}

function entryOf(key: string, view: string, args: unknown): Watched {
  const known = watched.get(key);
  if (known) return known;
  const entry: Watched = { id: ++last, view, args, value: signal(undefined), error: signal(undefined), users: 0, leaving: undefined, fresh: false };
  watched.set(key, entry);
  byId.set(entry.id, entry);
  performance.mark(`asked ${view}`);
  post({ type: "watch", watch: entry.id, view, args });
  // nobody may come to use it (a component that was drawn and thrown away before its effects ran)
  entry.leaving = setTimeout(() => leave(key, entry), LINGER_MS);
  return entry;
}

function leave(key: string, entry: Watched): void {
  if (entry.users > 0) return;
  watched.delete(key);
  byId.delete(entry.id);
  post({ type: "unwatch", watch: entry.id });
}

/** Paints what a view said last time, until the core says what is. */
export function remember(view: string, value: unknown): void {
  if (value === undefined) return;
  const entry = entryOf(keyOf(view), view, undefined);
  if (!entry.fresh) entry.value.value = value;
}
