// A recipe being written. Water is typed as grams at its dose and kept as a share; steps move with their times.

import { useRef, useState } from "preact/hooks";
import type { Filter, Geometry, GrindWord, Recipe, RecipeItem, RecipeStep, StepKind } from "../gen/types.ts";
import { command } from "../model/core.ts";
import { canRise, newStep, placeFor, swapped } from "../model/recipe.ts";
import { go } from "../model/router.ts";
import { formatWeight } from "../model/units.ts";
import { Button } from "../parts/button/button.tsx";
import { Choice, NumberField, TextField } from "../parts/field/field.tsx";
import { TemperatureField, WeightField } from "../parts/measure/measure.tsx";
import { Page } from "../parts/page/page.tsx";
import { ShapePick } from "../parts/shape/shape.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { recipe as says } from "../words.ts";
import { ranges } from "./brewsetup.tsx";
import { StepFields } from "./recipestep.tsx";
import "./recipe.css";

const fresh: Recipe = {
  id: "", title: "", geometry: "cone", dose: 15, ratio: 16, kettle: 94, grind: "medium", filter: "paper", note: "",
  steps: [
    { kind: "rinse", at: -60, until: 0, water: 0, dose: 0, pattern: "", times: 0 },
    { kind: "add", at: -60, until: 0, water: 0, dose: 0, pattern: "", times: 0 },
    { kind: "bloom", at: 0, until: 10, water: 0, dose: 2.5, pattern: "", times: 0 },
    { kind: "wait", at: 10, until: 40, water: 0, dose: 0, pattern: "", times: 0 },
    { kind: "pour", at: 40, until: 75, water: 1, dose: 0, pattern: "", times: 0 },
    { kind: "drain", at: 75, until: 165, water: 0, dose: 0, pattern: "", times: 0 },
  ],
};

const options = (names: { [value: string]: string }) => Object.entries(names).map(([value, label]) => ({ value, label }));

/** A step keeps its number while it moves, so that what is open stays open. */
interface Numbered {
  key: number;
  step: RecipeStep;
}

export function RecipeForm({ item }: { item: RecipeItem | undefined }) {
  const [typed, setTyped] = useState(item?.recipe ?? fresh);
  const next = useRef(typed.steps.length);
  const [steps, setSteps] = useState<Numbered[]>(() => typed.steps.map((step, key) => ({ key, step })));
  const doing = useDoing();
  const set = (change: Partial<Recipe>) => {
    setTyped({ ...typed, ...change });
    doing.clear();
  };
  const change = (list: Numbered[]) => {
    setSteps(list);
    doing.clear();
  };
  const plain = steps.map(({ step }) => step);
  const add = (kind: StepKind) => {
    const at = placeFor(kind, plain);
    change([...steps.slice(0, at), { key: next.current++, step: newStep(kind, plain) }, ...steps.slice(at)]);
  };
  const wrong = [typed.dose, typed.ratio, typed.kettle, ...plain.flatMap(({ at, until, water, dose, times }) => [at, until, water, dose, times])].some(Number.isNaN);
  const above = item ? paths.item("recipe", item.recipe.id) : paths.items("recipe");
  const save = () =>
    doing.run(async () => {
      const { id } = await command("recipe.save", { ...typed, steps: plain });
      go(paths.item("recipe", id), "replace");
    });
  return (
    <Page
      title={item ? typed.title || says.title : says.title}
      above={above}
      {...(item?.starting && { aside: says.starting })}
      action={
        <>
          <Problem refusal={doing.refusal} />
          <Button kind="primary" busy={doing.busy} disabled={wrong} onPress={() => void save()}>
            {words.common.save}
          </Button>
        </>
      }
    >
      <TextField label={says.name} value={typed.title} maxLength={80} onValue={(title) => set({ title })} error={doing.at("title")} />
      <ShapePick label={words.items.shape} value={typed.geometry} onValue={(geometry: Geometry) => set({ geometry })} error={doing.at("geometry")} />
      <div class="fields">
        <WeightField label={words.bench.dose} range={ranges.dose} value={typed.dose || undefined} onValue={(dose) => set({ dose: dose ?? 0 })} error={doing.at("dose")} />
        <NumberField label={says.ratio} hint={says.ratioHint} range={ranges.ratio} value={typed.ratio || undefined} onValue={(ratio) => set({ ratio: ratio ?? 0 })} error={doing.at("ratio")} />
      </div>
      {typed.dose * typed.ratio > 0 && <p class="soft">{says.waterIs(formatWeight(typed.dose * typed.ratio, 0))}</p>}
      <Steps steps={steps} recipe={typed} change={change} at={doing.at} />
      <AddStep onAdd={add} />
      <div class="fields">
        <TemperatureField label={says.kettle} hint={says.kettleHint} range={ranges.kettle} value={typed.kettle || undefined} onValue={(value) => set({ kettle: value ?? 0 })} error={doing.at("kettle")} />
        <Choice label={says.grind} value={typed.grind} onValue={(grind) => set({ grind: grind as GrindWord })} options={options(words.grindWord)} error={doing.at("grind")} />
        <Choice label={words.items.filter} value={typed.filter} onValue={(filter) => set({ filter: filter as Filter })} options={options(words.filter)} error={doing.at("filter")} />
      </div>
      <TextField label={words.items.note} value={typed.note} rows={3} onValue={(note) => set({ note })} error={doing.at("note")} />
    </Page>
  );
}

interface StepsProps {
  steps: readonly Numbered[];
  recipe: Recipe;
  change(steps: Numbered[]): void;
  at(field: string): string | undefined;
}

function Steps({ steps, recipe, change, at }: StepsProps) {
  const plain = steps.map(({ step }) => step);
  const rise = (i: number) => {
    const [upper, lower] = swapped(plain[i - 1]!, plain[i]!);
    change(steps.map((each, place) => (place === i - 1 ? { key: steps[i]!.key, step: upper } : place === i ? { key: steps[i - 1]!.key, step: lower } : each)));
  };
  return (
    <section class="stack close">
      <h2>{says.steps}</h2>
      <div>
        {steps.map(({ key, step }, i) => (
          <StepFields
            key={key}
            n={i + 1}
            step={step}
            recipe={recipe}
            onStep={(next) => change(steps.map((each) => (each.key === key ? { key, step: next } : each)))}
            onUp={canRise(plain, i) ? () => rise(i) : undefined}
            onDown={canRise(plain, i + 1) ? () => rise(i + 1) : undefined}
            onRemove={() => change(steps.filter((each) => each.key !== key))}
            error={at(`steps.${i}`)}
          />
        ))}
      </div>
    </section>
  );
}

function AddStep({ onAdd }: { onAdd(kind: StepKind): void }) {
  const [kind, setKind] = useState<StepKind>("pour");
  return (
    <div class="fields">
      <Choice label={says.addStep} value={kind} onValue={(value) => setKind(value as StepKind)} options={options(words.step)} />
      <Button onPress={() => onAdd(kind)}>{says.add}</Button>
    </div>
  );
}
