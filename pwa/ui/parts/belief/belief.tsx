// Bars of belief. Pencil, dashed, is what was likely before tasting; ink is what one thinks. The numbers stand beside them,
// so the bars need no words of their own.

import { formatShare } from "../../model/numbers.ts";
import "./belief.css";

/** Of ten thousand, in percent of the bar. */
const width = (share: number) => Math.min(share / 100, 100);

export function BeliefBars({ before, now }: { before: number; now: number | undefined }) {
  return (
    <svg class="belief" viewBox="0 0 100 24" preserveAspectRatio="none" aria-hidden="true">
      {now !== undefined && now > 0 && <rect class="belief-ink" x="0" y="2" width={Math.max(0.8, width(now))} height="11" />}
      {before > 0 && <rect class="belief-pencil" x="0.4" y="14.5" width={Math.max(0.8, width(before))} height="6" />}
    </svg>
  );
}

/** A row of a read-only belief: name, bars, per cent. */
export function BeliefRow({ name, level, before, now, truth }: { name: string; level: number; before: number; now: number | undefined; truth?: boolean }) {
  return (
    <tr class="belief-row">
      <th scope="row" class={`belief-name level-${Math.min(3, level)}${truth ? " truth" : ""}`}>
        {name}
      </th>
      <td class="belief-bars">
        <BeliefBars before={before} now={now} />
      </td>
      <td class="belief-share">{formatShare(now ?? before)}</td>
    </tr>
  );
}
