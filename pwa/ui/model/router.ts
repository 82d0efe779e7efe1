// Every screen has an address, and back always works. A table of patterns decides which screen an address shows; the
// secret of an invitation stands behind the #, which never leaves the browser.

import { signal } from "@preact/signals";

export interface Place {
  path: string;
  /** What a list is narrowed to, and how far down it one is; without the ?. */
  query: string;
  hash: string;
}

export type Params = { [name: string]: string };

const read = (): Place => ({ path: location.pathname, query: location.search.slice(1), hash: location.hash.slice(1) });

export const place = signal<Place>(typeof location === "undefined" ? { path: "/", query: "", hash: "" } : read());

/** Matches "/flights/:id" against an address; undefined when it does not. */
export function match(pattern: string, path: string): Params | undefined {
  const want = segments(pattern);
  const have = segments(path);
  if (want.length !== have.length) return undefined;
  const params: Params = {};
  for (const [i, part] of want.entries()) {
    const given = have[i] as string;
    if (part.startsWith(":")) {
      const text = decode(given);
      if (text === undefined) return undefined;
      params[part.slice(1)] = text;
    } else if (part !== given) return undefined;
  }
  return params;
}

/** The first route of the table that fits, with what its pattern caught. */
export function findRoute<T extends { pattern: string }>(routes: readonly T[], path: string): { route: T; params: Params } | undefined {
  for (const route of routes) {
    const params = match(route.pattern, path);
    if (params) return { route, params };
  }
  return undefined;
}

/** Fills a pattern: fill("/flights/:id", {id}) */
export function fill(pattern: string, params: Params): string {
  return pattern.replace(/:(\w+)/g, (_, name: string) => encodeURIComponent(params[name] ?? ""));
}

function segments(path: string): string[] {
  return path.split("/").filter((part) => part !== "");
}

function decode(text: string): string | undefined {
  try {
    return decodeURIComponent(text);
  } catch {
    return undefined;
  }
}

/** Steps between screens that this start of the app has made: back inside the app, or to its first screen. */
let steps = 0;

export function go(to: string, how: "push" | "replace" = "push"): void {
  if (how === "push") {
    steps++;
    history.pushState(steps, "", to);
  } else {
    history.replaceState(steps, "", to);
  }
  arrive(true);
}

/** Notes in the address how this screen stands, so that back and a reload find it so. Nothing is drawn anew. */
export function noteQuery(query: string): void {
  if (query === location.search.slice(1)) return;
  history.replaceState(steps, "", location.pathname + (query && `?${query}`) + location.hash);
}

/** Back to where the person came from; on a screen that was opened by its address, to the one above it. */
export function back(above: string): void {
  if (steps > 0) history.back();
  else go(above, "replace");
}

function arrive(fresh: boolean): void {
  place.value = read();
  if (fresh) scrollTo(0, 0);
}

/** Takes over the links of the app and the browser's back and forward. */
export function startRouter(): void {
  steps = typeof history.state === "number" ? history.state : 0;
  addEventListener("popstate", (event) => {
    steps = typeof event.state === "number" ? event.state : 0;
    arrive(false);
  });
  document.addEventListener("click", (event) => {
    const link = linkOf(event);
    if (!link) return;
    event.preventDefault();
    const to = link.pathname + link.search + link.hash;
    if (to !== location.pathname + location.search + location.hash) go(to);
  });
}

/** The link to one of the app's screens that an event, with nothing else held, is on. */
export function linkOf(event: MouseEvent): HTMLAnchorElement | undefined {
  const link = (event.target as Element | null)?.closest("a");
  if (!link || event.defaultPrevented || event.button !== 0 || modified(event)) return undefined;
  return link.target || link.origin !== location.origin || link.hasAttribute("download") ? undefined : link;
}

function modified(event: MouseEvent): boolean {
  return event.metaKey || event.ctrlKey || event.shiftKey || event.altKey;
}
