// What really happened, in ink, drawn over what was planned, in pencil: grams on the scale over time. The same as a table.

import { scaleLinear } from "d3-scale";
import { line } from "d3-shape";
import type { BrewView, Plan } from "../gen/types.ts";
import { bandsOf, pours, type Band } from "../model/guide.ts";
import { clock, doing, grams } from "../model/guidewords.ts";
import { words } from "../words.ts";

const { bench } = words;

type Point = [seconds: number, grams: number];

const WIDTH = 350;
const HEIGHT = 170;
const EDGE = { left: 40, right: 10, top: 10, bottom: 24 };

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
  const all = [...planned, ...actual];
  const most: Point = [Math.max(30, ...all.map(([seconds]) => seconds)), Math.max(10, ...all.map(([, weight]) => weight))];
  if (most[1] <= 10) return null;
  const x = scaleLinear([0, most[0]], [EDGE.left, WIDTH - EDGE.right]);
  const y = scaleLinear([0, most[1]], [HEIGHT - EDGE.bottom, EDGE.top]);
  const draw = line<Point>()
    .x(([seconds]) => x(seconds))
    .y(([, weight]) => y(weight));
  const small = view.marks.filter(({ mark }) => !["start", "bloom", "pour", "poured", "end", "hold", "on"].includes(mark));
  return (
    <figure class="timeline">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={bench.timelineLabel}>
        {x.ticks(5).map((tick) => (
          <text key={tick} x={x(tick)} y={HEIGHT - 6} text-anchor="middle">
            {clock(tick)}
          </text>
        ))}
        {y.ticks(4).map((tick) => (
          <g key={tick}>
            <line class="timeline-grid" x1={EDGE.left} x2={WIDTH - EDGE.right} y1={y(tick)} y2={y(tick)} />
            <text x={EDGE.left - 6} y={y(tick) + 4} text-anchor="end">
              {tick}
            </text>
          </g>
        ))}
        {planned.length > 0 && <path class="timeline-planned" d={draw(planned) ?? ""} />}
        {actual.length > 0 && <path class="timeline-actual" d={draw(actual) ?? ""} />}
        {small.map((mark, i) => (
          <line key={i} class="timeline-tick" x1={x(mark.at)} x2={x(mark.at)} y1={HEIGHT - EDGE.bottom - 10} y2={HEIGHT - EDGE.bottom} />
        ))}
      </svg>
      <figcaption class="small soft">{actual.length === 0 ? (small.length > 0 ? bench.timelineTicks : bench.timelinePlanned) : view.plan ? bench.timelineBoth : bench.timelineOne}</figcaption>
    </figure>
  );
}

/** What a touch that names no step means: those of a table of bowls do not. */
const deedOf = ({ kind, from }: Band): string => (pours(kind) ? (from === 0 ? "start" : "") : kind);

/** Step by step: when and how much it was to be, and was. */
export function TimelineTable({ view, plan }: { view: BrewView; plan: Plan }) {
  const bands = bandsOf(plan).filter(({ kind }) => kind !== "wait");
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
          return (
            <tr key={band.step}>
              <td>{doing(band)}</td>
              <td>{last > band.from ? `${clock(band.from)}–${clock(last)}` : clock(band.from)}</td>
              <td>{marks.map(({ at, grams: weight, mark }) => (weight > 0 && mark === "pour" ? `${clock(at)}, ${grams(weight)}` : clock(at))).join("–") || "–"}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
