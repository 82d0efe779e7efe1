// What somebody has begun and not kept yet stays for this browser tab, so that a look elsewhere loses nothing.

export function recallDraft<T>(key: string): T | undefined {
  try {
    return JSON.parse(sessionStorage.getItem(key) ?? "null") ?? undefined;
  } catch {
    return undefined;
  }
}

/** Undefined forgets it. What is no number is not kept. */
export function keepDraft(key: string, draft: unknown): void {
  try {
    if (draft === undefined) sessionStorage.removeItem(key);
    else sessionStorage.setItem(key, JSON.stringify(draft, (_, value: unknown) => (Number.isNaN(value) ? 0 : value)));
  } catch {
    // no room: only a look elsewhere would miss it
  }
}
