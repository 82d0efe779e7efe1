// The seconds of a running brew, as the screen shows them. Between two words of the core the page's steady clock counts: a
// system time that somebody sets moves nothing. After the page was hidden that clock may have stood still, and the core is asked.

import { useEffect, useReducer, useRef } from "preact/hooks";

interface Anchor {
  began: number;
  elapsed: number;
  steady: number;
}

const anchorOf = (began: number): Anchor => ({ began, elapsed: Date.now() - began, steady: performance.now() });

/** Milliseconds since the brew began; draws again with each of its seconds. 0 before the start. */
export function useBrewClock(began: number, running: boolean): number {
  const [, draw] = useReducer((n: number) => n + 1, 0);
  const anchor = useRef<Anchor>(anchorOf(began));
  if (anchor.current.began !== began) anchor.current = anchorOf(began);
  const elapsed = () => anchor.current.elapsed + performance.now() - anchor.current.steady;

  useEffect(() => {
    if (!running || began === 0) return;
    let timer: ReturnType<typeof setTimeout>;
    const tick = () => {
      draw(0);
      timer = setTimeout(tick, 1000 - (Math.max(0, elapsed()) % 1000) + 2);
    };
    const back = () => {
      if (document.visibilityState !== "visible") return;
      anchor.current = anchorOf(began);
      draw(0);
    };
    tick();
    document.addEventListener("visibilitychange", back);
    return () => {
      clearTimeout(timer);
      document.removeEventListener("visibilitychange", back);
    };
  }, [began, running]);

  return began === 0 ? 0 : Math.max(0, elapsed());
}

/** Runs something at a moment of the brew, as exactly as a page can. */
export function atSecond(seconds: number, elapsed: number, run: () => void): () => void {
  const timer = setTimeout(run, Math.max(0, seconds * 1000 - elapsed));
  return () => clearTimeout(timer);
}
