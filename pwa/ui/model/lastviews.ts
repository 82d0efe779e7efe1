// The last value of the few views that a start shows first: the page paints them before the core is up. They stand where a
// page reads them without waiting for the database, which opens slower the more there is in it. Losing them loses nothing.

const PREFIX = "hushcup last ";
const KEPT: readonly string[] = ["tonight", "bench"];
const BEAT_MS = 200;

/** All of them, by name. */
export function readLastViews(): Map<string, unknown> {
  const views = new Map<string, unknown>();
  try {
    for (const view of KEPT) {
      const text = localStorage.getItem(PREFIX + view);
      if (text !== null) views.set(view, JSON.parse(text));
    }
  } catch {
    // none allowed, or one that was cut off: only a first paint is lost
  }
  return views;
}

const waiting = new Map<string, unknown>();
let timer: ReturnType<typeof setTimeout> | undefined;

/** Keeps what the core said of a view, if it is one of them, behind whatever hurries. */
export function keepLastView(view: string, args: unknown, value: unknown): void {
  if (!KEPT.includes(view) || args !== undefined) return;
  waiting.set(view, value);
  timer ??= setTimeout(writeLastViews, BEAT_MS);
}

/** Writes what waits: at a beat, and before the page is put away. */
export function writeLastViews(): void {
  clearTimeout(timer);
  timer = undefined;
  try {
    for (const [view, value] of waiting) localStorage.setItem(PREFIX + view, JSON.stringify(value));
  } catch {
    // no room: the next start paints an older value or none
  }
  waiting.clear();
}
