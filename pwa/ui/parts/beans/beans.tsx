// A row of beans: how near each person was to the cup. Three beans for every doubling of a blind guess's chance, as a length to
// compare; the factor itself stands beside it, and the whole is a table.

import type { Factor } from "../../gen/types.ts";
import { formatFactor } from "../../model/numbers.ts";
import "./beans.css";

export interface BeanRow {
  name: string;
  /** undefined when there is nothing to count. */
  score: Factor | undefined;
  note?: string;
  own?: boolean;
  together?: boolean;
}

const BITS_A_BEAN = 1 / 3;
const MOST = 24;

export function BeanChart({ caption, rows }: { caption: string; rows: readonly BeanRow[] }) {
  return (
    <table class="beans">
      <caption>{caption}</caption>
      <tbody>
        {rows.map((row) => (
          <tr key={row.name} class={row.own ? "own" : row.together ? "together" : ""}>
            <th scope="row">{row.name}</th>
            <td class="beans-row">
              <Beans score={row.score} />
            </td>
            <td class="beans-factor">{row.score ? formatFactor(row.score) : ""}
              {row.note && <span class="small soft"> {row.note}</span>}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Full beans for more than a blind guess, empty ones for less. */
function Beans({ score }: { score: Factor | undefined }) {
  if (!score) return null;
  const count = Math.min(MOST, Math.round(Math.abs(score.bits) / 1000 / BITS_A_BEAN));
  const less = score.bits < 0;
  return (
    <svg class={less ? "bean less" : "bean"} viewBox={`0 0 ${MOST * 8} 14`} aria-hidden="true">
      <path class="bean-line" d={`M0 7h${MOST * 8}`} />
      {Array.from({ length: count }, (_, i) => (
        <ellipse key={i} cx={4.5 + i * 8} cy="7" rx="3" ry="4.6" />
      ))}
    </svg>
  );
}
