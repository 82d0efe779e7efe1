// The seconds of a running brew, as the screen shows them. Between two words of the core the page's steady clock counts: a
// system time that somebody sets moves nothing. While the page is hidden that clock may stand still, and the core is asked.

import { useEffect, useReducer, useRef } from "preact/hooks";

interface Anchor {
  began: number;
  elapsed: number;
  steady: number;
}

export interface BrewSeconds {
  /** Milliseconds since the brew began; 0 before the start. */
  elapsed: number;
  /** The core goes by a phone's clock that has jumped, though this page was in sight all the time. */
  disputed: boolean;
  /** The core is right after all. */
  give(): void;
}

/** The two counts may differ by so much without anything having happened. */
const AGREE_MS = 2000;

/** The core has said by then what it makes of an absence. */
const ANSWER_MS = 2000;

const anchorOf = (began: number): Anchor => ({ began, elapsed: Date.now() - began, steady: performance.now() });

/** Draws again with each second of the brew. */
export function useBrewClock(began: number, running: boolean): BrewSeconds {
  const [, draw] = useReducer((n: number, by: number) => n + by, 0);
  const anchor = useRef<Anchor>(anchorOf(began));
  /** The page was hidden: whatever the core says next holds. */
  const away = useRef(false);
  const counted = () => anchor.current.elapsed + performance.now() - anchor.current.steady;
  // a clock set back is nothing to the core; one set forward looks as if the phone had slept
  const ahead = () => Date.now() - began - counted();
  const settled = began === 0 || anchor.current.began === 0 || away.current || ahead() <= AGREE_MS;
  if (anchor.current.began !== began && settled) anchor.current = anchorOf(began);
  const give = () => {
    anchor.current = anchorOf(began);
    draw(1);
  };

  useEffect(() => {
    if (!running || began === 0) return;
    let timer: ReturnType<typeof setTimeout>;
    let settling: ReturnType<typeof setTimeout> | undefined;
    const tick = () => {
      draw(1);
      timer = setTimeout(tick, 1000 - (Math.max(0, counted()) % 1000) + 2);
    };
    const look = () => {
      if (document.visibilityState === "visible") {
        anchor.current = anchorOf(began);
        settling = setTimeout(() => (away.current = false), ANSWER_MS);
      } else {
        clearTimeout(settling);
        away.current = true;
      }
      draw(1);
    };
    tick();
    document.addEventListener("visibilitychange", look);
    return () => {
      clearTimeout(timer);
      clearTimeout(settling);
      away.current = false;
      document.removeEventListener("visibilitychange", look);
    };
  }, [began, running]);

  return { elapsed: began === 0 ? 0 : Math.max(0, counted()), disputed: running && began > 0 && !away.current && ahead() > AGREE_MS, give };
}

/** Runs something at a moment of the brew, as exactly as a page can. */
export function atSecond(seconds: number, elapsed: number, run: () => void): () => void {
  const timer = setTimeout(run, Math.max(0, seconds * 1000 - elapsed));
  return () => clearTimeout(timer);
}
