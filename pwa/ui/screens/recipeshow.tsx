// A recipe to look at: for any dose, drawn over time and step by step, with what it takes and what to take care of.

import { scaleLinear } from "d3-scale";
import { line } from "d3-shape";
import type { BrewPlanned, BrewSetup, CupboardView, Plan, PlanStep, Recipe } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import { pours } from "../model/guide.ts";
import { clock } from "../model/guidewords.ts";
import { formatNumber } from "../model/numbers.ts";
import { chooseRecipe, fitting } from "../model/setup.ts";
import { formatTemperature, formatWeight, weight } from "../model/units.ts";
import { useAnswer } from "../model/water.ts";
import { WeightField } from "../parts/measure/measure.tsx";
import { Shape } from "../parts/shape/shape.tsx";
import { words } from "../words.ts";
import { Cautions } from "./brewformplan.tsx";
import { ranges } from "./brewsetup.tsx";
import { plannedLine } from "./brewtimeline.tsx";
import "./brew.css";
import "./recipe.css";

const { recipe: says } = words;

const empty: BrewSetup = {
  coffee: "", method: "other", brewer: "", dose: 0, water: 0, ratio: 0, kettle: 0, grinder: "", grind: "", filter: "", coffeeID: "", brewerID: "",
  grinderID: "", waterID: "", recipeID: "", geometry: "", waterName: "", recipe: "", steps: [], scoops: 0, sinceGrinding: 0,
};

/** What the next brew would be with this recipe: with last time's coffee and grinder, and a brewer that fits it. */
export function setupOf(recipe: Recipe, dose: number, view: CupboardView, last: BrewSetup = empty): BrewSetup {
  const fits = view.brewers.filter(({ brewer, kept }) => brewer.geometry === recipe.geometry && !kept.away);
  const brewer = (fits.find((item) => item.brewer.id === last.brewerID) ?? fits[0])?.brewer;
  const base: BrewSetup = {
    ...last, dose, filter: brewer?.filter || recipe.filter, geometry: recipe.geometry, method: fitting(recipe.geometry), brewerID: brewer?.id ?? "",
    brewer: brewer?.name ?? (last.geometry === recipe.geometry ? last.brewer : ""),
  };
  return { ...base, ...chooseRecipe(base, recipe, view.boiling) };
}

interface Props {
  recipe: Recipe;
  view: CupboardView;
  dose: number | undefined;
  setDose(dose: number | undefined): void;
}

export function RecipeShow({ recipe, view, dose, setDose }: Props) {
  const last = useView("bench").value?.last;
  const setup = dose === undefined || Number.isNaN(dose) ? undefined : setupOf(recipe, dose, view, { ...empty, grinderID: last?.grinderID ?? "", grinder: last?.grinder ?? "" });
  const planned = useAnswer(setup && { club: "", sample: "", setup, bowls: 0 }, (question) => command("brew.plan", question));
  return (
    <>
      <WeightField label={says.dose} range={ranges.dose} value={dose} onValue={setDose} wet />
      <Facts recipe={recipe} boiling={view.boiling} plan={planned?.plan} />
      {planned?.plan && (
        <>
          <RecipeLine plan={planned.plan} />
          <StepTable steps={planned.plan.steps} />
        </>
      )}
      {planned && <Own planned={planned} />}
      {planned && (
        <section class="stack close">
          <h2>{says.brewFirst}</h2>
          <p>{words.caution["hot-water"]}</p>
          <Cautions planned={planned} />
        </section>
      )}
      {recipe.note && <p class="brew-notes">{recipe.note}</p>}
    </>
  );
}

function Facts({ recipe, boiling, plan }: { recipe: Recipe; boiling: number; plan: Plan | undefined }) {
  const capped = recipe.kettle > boiling;
  const rows: [string, string][] = [
    [says.facts.water, plan ? formatWeight(plan.water + plan.bypass, 0) : ""],
    [says.facts.ratio, says.oneTo(formatNumber(recipe.ratio, 1))],
    [says.facts.kettle, capped ? says.capped(formatTemperature(boiling)) : recipe.kettle > 0 ? formatTemperature(recipe.kettle) : ""],
    [says.facts.grind, recipe.grind && words.grindWord[recipe.grind]],
    [says.facts.filter, recipe.filter && words.filter[recipe.filter]],
    [says.facts.cup, plan && plan.beverage > 0 && recipe.geometry !== "cupping-bowl" ? formatWeight(plan.beverage, 0) : ""],
  ];
  return (
    <div class="recipe-facts">
      <p class="row">
        <Shape geometry={recipe.geometry} /> {words.geometry[recipe.geometry]}
      </p>
      <dl class="facts">
        {rows.map(([label, value]) => value && [<dt key={label}>{label}</dt>, <dd key={value}>{value}</dd>])}
      </dl>
    </div>
  );
}

const WIDTH = 350;
const HEIGHT = 130;
const EDGE = { left: 40, right: 10, top: 10, bottom: 22 };

/** Planned, so in pencil. */
function RecipeLine({ plan }: { plan: Plan }) {
  const points = plannedLine(plan);
  const x = scaleLinear([0, Math.max(30, plan.ends)], [EDGE.left, WIDTH - EDGE.right]);
  const y = scaleLinear([0, weight.value.show(Math.max(10, ...points.map(([, grams]) => grams)))], [HEIGHT - EDGE.bottom, EDGE.top]);
  const draw = line<[number, number]>()
    .x(([seconds]) => x(seconds))
    .y(([, grams]) => y(weight.value.show(grams)));
  const small = plan.steps.filter(({ at, kind }) => at >= 0 && !pours(kind) && kind !== "wait" && kind !== "drain");
  return (
    <figure class="timeline">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={says.timeline}>
        {x.ticks(5).map((tick) => (
          <text key={tick} x={x(tick)} y={HEIGHT - 5} text-anchor="middle">
            {clock(tick)}
          </text>
        ))}
        {y.ticks(4).map((tick) => (
          <g key={tick}>
            <line class="timeline-grid" x1={EDGE.left} x2={WIDTH - EDGE.right} y1={y(tick)} y2={y(tick)} />
            <text x={EDGE.left - 6} y={y(tick) + 4} text-anchor="end">
              {formatNumber(tick, 1)}
            </text>
          </g>
        ))}
        <path class="timeline-planned" d={draw(points) ?? ""} />
        {small.map(({ at }, i) => (
          <line key={i} class="timeline-tick" x1={x(at)} x2={x(at)} y1={HEIGHT - EDGE.bottom - 10} y2={HEIGHT - EDGE.bottom} />
        ))}
      </svg>
    </figure>
  );
}

function StepTable({ steps }: { steps: readonly PlanStep[] }) {
  return (
    <table class="marks recipe-steps">
      <caption>{says.steps}</caption>
      <tbody>
        {steps.map((step, i) => (
          <tr key={i} class={step.kind === "wait" ? "soft" : ""}>
            <td>{whenOf(step)}</td>
            <td>
              {whatOf(step)}
              {step.pattern && <span class="soft">, {words.pattern[step.pattern]}</span>}
            </td>
            <td>{weightOf(step)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

export const whenOf = ({ at, until }: Pick<PlanStep, "at" | "until">) => (at < 0 ? says.before : until > at ? `${clock(at)}–${clock(until)}` : clock(at));
const whatOf = ({ kind, times }: PlanStep) => (times > 0 ? words.bench.times(words.step[kind], times) : words.step[kind]);
const weightOf = ({ kind, to, adds }: PlanStep) => (pours(kind) ? says.upTo(formatWeight(to, 0)) : kind === "bypass" ? says.adds(formatWeight(adds, 0)) : "");

/** What one's own brews say of its time and grind. */
function Own({ planned }: { planned: BrewPlanned }) {
  const { time, grind } = planned;
  if (!time && !grind?.known) return null;
  return (
    <section class="stack close no-print">
      <h2>{says.ownTime}</h2>
      {time && <p>{words.bench.takes(clock(time.seconds.value), clock(time.seconds.low), clock(time.seconds.high))}</p>}
      {grind?.known && <p>{words.bench.grindAt(grind.setting, grind.low, grind.high)}</p>}
    </section>
  );
}
