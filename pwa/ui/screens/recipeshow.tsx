// A recipe to look at: for any dose, drawn over time and step by step, with what it takes and what to take care of.

import type { BrewPlanned, BrewSetup, CupboardView, Plan, PlanStep, Recipe } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import { pours } from "../model/guide.ts";
import { clock } from "../model/guidewords.ts";
import { formatNumber } from "../model/numbers.ts";
import { chooseRecipe, fitting } from "../model/setup.ts";
import { formatTemperature, formatWeight } from "../model/units.ts";
import { useAnswer } from "../model/water.ts";
import { WeightLine } from "../parts/chart/weightline.tsx";
import { Choice } from "../parts/field/field.tsx";
import { WeightField } from "../parts/measure/measure.tsx";
import { Shape } from "../parts/shape/shape.tsx";
import * as words from "../words.ts";
import { recipe as says } from "../words.ts";
import { Allergic, Cautions, Grind, Time } from "./brewformplan.tsx";
import { ranges } from "./brewsetup.tsx";
import { plannedLine } from "./brewtimeline.tsx";
import "./brew.css";
import "./recipe.css";

const empty: BrewSetup = {
  coffee: "", method: "other", brewer: "", dose: 0, water: 0, ratio: 0, kettle: 0, grinder: "", grind: "", filter: "", coffeeID: "", brewerID: "",
  grinderID: "", waterID: "", recipeID: "", geometry: "", waterName: "", recipe: "", steps: [], scoops: 0, sinceGrinding: 0,
};

/** For how much coffee, and in what; without a brewer it is one that fits. */
export interface Scaling {
  dose: number | undefined;
  brewer: string;
}

export const asWritten = ({ dose }: Recipe): Scaling => ({ dose, brewer: "" });

/** What the next brew would be with this recipe: with last time's coffee and grinder. Undefined without a dose. */
export function setupOf(recipe: Recipe, { dose, brewer: chosen }: Scaling, view: CupboardView, last: BrewSetup = empty): BrewSetup | undefined {
  if (dose === undefined || Number.isNaN(dose)) return undefined;
  const brewer = brewerOf(recipe, chosen || last.brewerID, view, chosen !== "");
  const geometry = brewer?.geometry ?? recipe.geometry;
  const base: BrewSetup = {
    ...last, dose, filter: brewer?.filter || recipe.filter, geometry, method: fitting(geometry), brewerID: brewer?.id ?? "",
    brewer: brewer?.name ?? (last.geometry === geometry ? last.brewer : ""),
  };
  return { ...base, ...chooseRecipe(base, recipe, view.boiling) };
}

/** The brewer that was asked for, or else one of the recipe's shape. */
function brewerOf(recipe: Recipe, wanted: string, view: CupboardView, anyShape = false) {
  const here = view.brewers.filter(({ brewer, kept }) => !kept.away && (anyShape || brewer.geometry === recipe.geometry));
  return (here.find(({ brewer }) => brewer.id === wanted) ?? (anyShape ? undefined : here[0]))?.brewer;
}

interface Props {
  recipe: Recipe;
  view: CupboardView;
  scaling: Scaling;
  setScaling(scaling: Scaling): void;
}

export function RecipeShow({ recipe, view, scaling, setScaling }: Props) {
  const last = useView("bench").value?.last;
  const setup = setupOf(recipe, scaling, view, { ...empty, grinderID: last?.grinderID ?? "", grinder: last?.grinder ?? "", brewerID: last?.brewerID ?? "" });
  const planned = useAnswer(setup && { club: "", sample: "", setup, bowls: 0 }, (question) => command("brew.plan", question));
  return (
    <>
      <WeightField label={says.dose} range={ranges.dose} value={scaling.dose} onValue={(dose) => setScaling({ ...scaling, dose })} wet />
      <BrewerPick view={view} value={setup?.brewerID ?? scaling.brewer} onValue={(brewer) => setScaling({ ...scaling, brewer })} />
      <Facts recipe={recipe} boiling={view.boiling} plan={planned?.plan} />
      {planned?.plan && (
        <>
          <RecipeLine plan={planned.plan} />
          <StepTable steps={planned.plan.steps} />
        </>
      )}
      {planned && <Foreseen planned={planned} />}
      {planned && (
        <section class="stack close recipe-before">
          <h2>{says.brewFirst}</h2>
          <p>{words.caution["hot-water"]}</p>
          <Allergic allergic={planned.allergic} />
          <Cautions planned={planned} />
        </section>
      )}
      {recipe.note && <p class="brew-notes" dir="auto">{recipe.note}</p>}
    </>
  );
}

/** In which of one's brewers; with none there is nothing to choose. */
function BrewerPick({ view, value, onValue }: { view: CupboardView; value: string; onValue(id: string): void }) {
  const brewers = view.brewers.filter(({ kept }) => !kept.away).map(({ brewer }) => ({ value: brewer.id, label: brewer.name }));
  if (brewers.length === 0) return null;
  return (
    <div class="no-print">
      <Choice label={says.inBrewer} value={value} onValue={onValue} options={value ? brewers : [{ value: "", label: says.itsOwn }, ...brewers]} />
    </div>
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

/** Planned, so in pencil. */
function RecipeLine({ plan }: { plan: Plan }) {
  const moments = plan.steps.filter(({ at, kind }) => at >= 0 && !pours(kind) && kind !== "wait" && kind !== "drain").map(({ at }) => at);
  return <WeightLine label={says.timeline} lines={[{ points: plannedLine(plan), look: "planned" }]} moments={moments} />;
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

/** What can be told of its time and grind, and from what. */
function Foreseen({ planned: { time, grind } }: { planned: BrewPlanned }) {
  if (!time && !grind) return null;
  return (
    <section class="stack close planned no-print">
      <h2>{says.foreseen}</h2>
      {time && <Time time={time} />}
      {grind && <Grind grind={grind} />}
    </section>
  );
}
