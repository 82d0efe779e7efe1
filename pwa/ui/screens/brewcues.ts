// Sounds of the guide: the high pitch where something starts, the low one where a pour ends.

import { useEffect } from "preact/hooks";
import { atSecond } from "../model/brewclock.ts";
import { pours, type Band } from "../model/guide.ts";
import { shake, sound, type Cue } from "../parts/sound/sound.ts";

interface Moment {
  at: number;
  cue: Cue;
}

/** A cue that is this late is not given any more: the page was away. */
const LATE_SECONDS = 1.5;

export function momentsOf(bands: readonly Band[]): Moment[] {
  const moments: Moment[] = [];
  for (const band of bands) {
    if (band.kind === "wait") continue;
    if (band.from > 0) moments.push({ at: band.from, cue: "start" });
    if (pours(band.kind)) moments.push({ at: band.until, cue: "stop" });
  }
  // where one thing ends as the next begins, the begin is what hands wait for
  return moments.filter(({ at, cue }) => cue === "start" || !moments.some((other) => other.cue === "start" && other.at === at));
}

export function useCues(bands: readonly Band[], seconds: number, loud: boolean): void {
  const moments = momentsOf(bands);
  const next = moments.find((moment) => moment.at > seconds - LATE_SECONDS && moment.at >= Math.floor(seconds));
  const due = next?.at ?? -1;
  const cue = next?.cue ?? "start";
  useEffect(() => {
    if (due < 0) return;
    return atSecond(due, seconds * 1000, () => {
      shake(cue);
      if (loud) sound(cue);
    });
  }, [due, cue, loud]);
}
