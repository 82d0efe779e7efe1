// The time of day and the running seconds, as signals: one timer for all that show a clock.

import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";

const second = signal(Date.now());
const minute = signal(Date.now());

let users = 0;
let ticking: ReturnType<typeof setTimeout> | undefined;

function tick(): void {
  const now = Date.now();
  second.value = now;
  if (Math.abs(now - minute.peek()) >= 15_000) minute.value = now;
  ticking = setTimeout(tick, 1000 - (now % 1000) + 2);
}

/** Keeps the timer running for as long as somebody looks. */
function useTicking(wanted: boolean): void {
  useEffect(() => {
    if (!wanted) return;
    if (users++ === 0) tick();
    return () => {
      if (--users === 0) clearTimeout(ticking);
    };
  }, [wanted]);
}

/** Now, to the second; redraws each second while it is on the screen. */
export function useSecond(wanted = true): number {
  useTicking(wanted);
  return wanted ? second.value : second.peek();
}

/** Now, to the quarter minute: for "in 5 minutes". */
export function useMinute(): number {
  useTicking(true);
  return minute.value;
}
