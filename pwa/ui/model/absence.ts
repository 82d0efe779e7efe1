// When somebody last looked at a running brew. A killed tab says no goodbye, so this is noted as long as the screen is seen.

const KEY = "hushcup brew seen";

interface LastSeen {
  brew: string;
  /** Seconds from its start. */
  at: number;
}

export function noteSeen(brew: string, at: number): void {
  try {
    localStorage.setItem(KEY, JSON.stringify({ brew, at } satisfies LastSeen));
  } catch {
    // no room, or none allowed: the last mark stands in for it
  }
}

export function lastSeen(brew: string): number | undefined {
  try {
    const seen = JSON.parse(localStorage.getItem(KEY) ?? "null") as LastSeen | null;
    return seen?.brew === brew && Number.isFinite(seen.at) ? seen.at : undefined;
  } catch {
    return undefined;
  }
}
