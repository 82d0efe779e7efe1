// One step of a recipe being written: one line, which opens.

import type { PourPattern, Recipe, RecipeStep, StepKind } from "../gen/types.ts";
import { counts, gramsOf, isEarly, wets, withGrams, withKind } from "../model/recipe.ts";
import type { Range } from "../model/numbers.ts";
import { formatWeight } from "../model/units.ts";
import { Button } from "../parts/button/button.tsx";
import { Choice, DurationField, NumberField } from "../parts/field/field.tsx";
import { WeightField } from "../parts/measure/measure.tsx";
import * as words from "../words.ts";
import { recipe as says } from "../words.ts";
import { whenOf } from "./recipeshow.tsx";

const water: Range = { min: 0, max: 10_000 };
const strokes: Range = { min: 1, max: 50, usual: [1, 20], whole: true };
const options = (names: { [value: string]: string }) => Object.entries(names).map(([value, label]) => ({ value, label }));

interface Props {
  n: number;
  step: RecipeStep;
  recipe: Recipe;
  onStep(step: RecipeStep): void;
  onUp: (() => void) | undefined;
  onDown: (() => void) | undefined;
  onRemove(): void;
  error: string | undefined;
}

export function StepFields({ n, step, recipe, onStep, onUp, onDown, onRemove, error }: Props) {
  const set = (change: Partial<RecipeStep>) => onStep({ ...step, ...change });
  return (
    <details class={`fold recipe-step${error ? " wrong" : ""}`} open={error !== undefined || undefined}>
      <summary>
        <span class="unseen">{says.step(n)}</span>
        <span class="step-when">{whenOf(step)}</span> {stepLine(step, recipe)}
      </summary>
      <div class="stack">
        {error && (
          <p role="alert">
            <strong>{error}</strong>
          </p>
        )}
        <Choice label={says.kind} value={step.kind} onValue={(kind) => onStep(withKind(step, kind as StepKind))} options={options(words.step)} />
        {isEarly(step.kind) && step.at < 0 ? <p class="small soft">{says.beforeClock}</p> : <Times step={step} set={set} />}
        {wets(step.kind) && <Water step={step} recipe={recipe} onStep={onStep} />}
        {counts(step.kind) && <NumberField label={says.times} range={strokes} value={step.times || undefined} onValue={(times) => set({ times: times ?? 0 })} />}
        <div class="row">
          <Button disabled={!onUp} onPress={onUp ?? nothing}>
            {says.up}
          </Button>
          <Button disabled={!onDown} onPress={onDown ?? nothing}>
            {says.down}
          </Button>
          <Button kind="quiet" onPress={onRemove}>
            {says.remove}
          </Button>
        </div>
      </div>
    </details>
  );
}

const nothing = () => {};

function Times({ step, set }: { step: RecipeStep; set(change: Partial<RecipeStep>): void }) {
  return (
    <div class="fields">
      <DurationField label={says.from} value={step.at} onValue={(at) => set({ at: at ?? 0 })} />
      <DurationField label={says.until} value={step.until || undefined} onValue={(until) => set({ until: until ?? 0 })} />
    </div>
  );
}

function Water({ step, recipe, onStep }: Pick<Props, "step" | "recipe" | "onStep">) {
  return (
    <>
      <WeightField label={step.kind === "bypass" ? says.bypass : says.to} range={water} value={gramsOf(step, recipe)} onValue={(grams) => onStep(withGrams(step, grams ?? 0, recipe))} />
      {step.kind !== "bypass" && <Choice label={says.pattern} value={step.pattern} onValue={(pattern) => onStep({ ...step, pattern: pattern as PourPattern })} options={options(words.pattern)} />}
    </>
  );
}

/** pour to 144 g; stir, 3 times. */
function stepLine(step: RecipeStep, recipe: Recipe): string {
  const what = words.step[step.kind];
  const grams = formatWeight(gramsOf(step, recipe), 0);
  if (step.kind === "bypass") return `${what} ${says.adds(grams)}`;
  if (wets(step.kind)) return `${what} ${says.upTo(grams)}`;
  return step.times > 0 ? words.bench.times(what, step.times) : what;
}
