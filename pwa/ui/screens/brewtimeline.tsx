// What really happened, in ink, drawn over what was planned, in pencil: grams on the scale over time. The same as a table.

import type { BrewMarked, BrewView, Plan, Pour } from "../gen/types.ts";
import { bandsOf, pours, type Band } from "../model/guide.ts";
import { clock, doing, grams } from "../model/guidewords.ts";
import { type Point, WeightLine } from "../parts/chart/weightline.tsx";
import { bench } from "../words.ts";

/** The weight on the scale as it was planned. */
export function plannedLine(plan: Plan): Point[] {
  const points: Point[] = [[0, 0]];
  for (const band of bandsOf(plan)) {
    if (pours(band.kind)) points.push([band.from, band.to - band.adds], [band.until, band.to]);
  }
  return [...points, [plan.ends, points.at(-1)![1]]];
}

/** The weight on the scale as it was touched or corrected; a pour whose end nobody noted rises at once. */
export function actualLine(view: BrewView): Point[] {
  const ends = view.marks.filter(({ mark }) => mark === "poured");
  if (![...view.pours, ...ends].some(({ grams: weight }) => weight > 0)) return []; // nobody noted a weight
  const points: Point[] = [[0, 0]];
  view.pours.forEach((pour, i) => {
    const before = points.at(-1)![1];
    const next = view.pours[i + 1]?.at ?? Infinity;
    const end = ends.find(({ at }) => at >= pour.at && at < next);
    const reached = pour.grams > 0 ? pour.grams : end && end.grams > 0 ? end.grams : before;
    points.push([pour.at, before], [end?.at ?? pour.at, reached]);
  });
  return view.drawdown > 0 ? [...points, [view.drawdown, points.at(-1)![1]]] : points;
}

export function Timeline({ view }: { view: BrewView }) {
  const planned = view.plan ? plannedLine(view.plan) : [];
  const actual = actualLine(view);
  if (Math.max(...[...planned, ...actual].map(([, weight]) => weight)) <= 10) return null;
  const moments = view.marks.filter(({ mark }) => !["start", "bloom", "pour", "poured", "end", "hold", "on"].includes(mark)).map(({ at }) => at);
  return (
    <WeightLine label={bench.timelineLabel} lines={[{ points: planned, look: "planned" }, { points: actual, look: "actual" }]} moments={moments}>
      {actual.length === 0 ? (moments.length > 0 ? bench.timelineTicks : bench.timelinePlanned) : view.plan ? bench.timelineBoth : bench.timelineOne}
    </WeightLine>
  );
}

/** What a touch that names no step means: those of a table of bowls do not. */
const deedOf = ({ kind, from }: Band): string => (pours(kind) ? (from === 0 ? "start" : "") : kind);

/** Step by step: when and how much it was to be, and was. */
export function TimelineTable({ view, plan }: { view: BrewView; plan: Plan }) {
  const bands = bandsOf(plan).filter(({ kind }) => kind !== "wait");
  const poured = bands.filter(({ kind }) => pours(kind));
  return (
    <table class="marks">
      <caption class="unseen">{bench.marks}</caption>
      <thead>
        <tr>
          <th scope="col">{bench.table.what}</th>
          <th scope="col">{bench.table.planned}</th>
          <th scope="col">{bench.table.really}</th>
        </tr>
      </thead>
      <tbody>
        {bands.map((band) => {
          const last = pours(band.kind) ? band.until : band.from;
          const named = view.marks.filter(({ step }) => step === band.step);
          const marks = named.length > 0 ? named : view.marks.filter(({ step, mark }) => step === 0 && mark === deedOf(band));
          const pour = view.pours.length === poured.length ? view.pours[poured.indexOf(band)] : undefined; // as corrected
          const ended = (each: BrewMarked) => (each.mark === "end" && view.drawdown > 0 ? { ...each, at: view.drawdown } : each);
          const touched = pour ? [pour, ...marks.filter(({ mark, at }) => mark === "poured" && at > pour.at)] : marks.map(ended);
          const weighed = (of: Pour | BrewMarked) => of.grams > 0 && (!("mark" in of) || of.mark === "pour");
          return (
            <tr key={band.step}>
              <td>{doing(band)}</td>
              <td>{last > band.from ? `${clock(band.from)}–${clock(last)}` : clock(band.from)}</td>
              <td>{touched.map((each) => (weighed(each) ? `${clock(each.at)}, ${grams(each.grams)}` : clock(each.at))).join("–") || "–"}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
