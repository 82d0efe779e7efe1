// The strip of kraft paper of the pour guide. Pours are bands as long as their grams, waits are bare paper with a note; what
// lies under the pencil line is now. It is a picture: the same stands beside it in words, and in a list for a screen reader.

import { useState } from "preact/hooks";
import { bandAt, pours, slidAt, type Band } from "../../model/guide.ts";
import { bandNote, bandWords, stepSentence } from "../../model/guidewords.ts";
import * as words from "../../words.ts";
import "./pourstrip.css";

interface Props {
  bands: readonly Band[];
  seconds: number;
  /** The paper does not move: before the start, and while the plan is held. */
  still: boolean;
}

export function PourStrip({ bands, seconds, still }: Props) {
  const [jumps] = useState(() => matchMedia("(prefers-reduced-motion: reduce)").matches);
  const now = bandAt(bands, seconds);
  // the paper is on its way to where it will lie in a second; or it jumps from step to step
  const slid = slidAt(bands, jumps ? (bands[now]?.from ?? seconds) : still ? seconds : seconds + 1);
  return (
    <>
      <div class={`pourstrip${still || jumps ? " still" : ""}`} aria-hidden="true">
        <div class="pourstrip-paper" style={{ transform: `translateY(${-slid}rem)` }}>
          {bands.map((band, i) => (
            <div
              key={i}
              class={`pourstrip-band${pours(band.kind) ? " water" : ""}${band.until <= seconds ? " past" : ""}`}
              style={{ top: `${band.top}rem`, height: `${band.length}rem` }}
            >
              <span>{bandWords(band)}</span>
              {bandNote(band) && <small>{bandNote(band)}</small>}
            </div>
          ))}
        </div>
        <div class="pourstrip-line" />
      </div>
      <ol class="unseen" aria-label={words.bench.plan}>
        {bands.map((band, i) => (
          <li key={i} aria-current={i === now ? "step" : undefined}>
            {stepSentence(band)}
          </li>
        ))}
      </ol>
    </>
  );
}
