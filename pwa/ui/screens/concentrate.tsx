// A concentrate: salts dissolved in pure water, dosed by the millilitre and never drunk.

import type { Concentrate, ConcentrateItem, Salt, SaltGrams, WaterView } from "../gen/types.ts";
import { command } from "../model/core.ts";
import { formatNumber, type Range } from "../model/numbers.ts";
import type { Params } from "../model/router.ts";
import { saltName, useAnswer } from "../model/water.ts";
import { Button } from "../parts/button/button.tsx";
import { Choice, NumberField } from "../parts/field/field.tsx";
import { Care } from "../parts/status/status.tsx";
import * as words from "../words.ts";
import { water } from "../words.ts";
import { ItemForm, OfWaters, useTyping } from "./itemform.tsx";
import { Doubts } from "./waterreads.tsx";

const millilitres: Range = { min: 10, max: 20_000, usual: [50, 2000], unit: water.millilitre };
const weighed: Range = { min: 0, max: 10_000, usual: [0.1, 200], unit: words.units.gram };

/** Named after its salts until it has a name of its own. */
const nameBy = (salts: readonly SaltGrams[]) => salts.map(({ salt }) => water.saltNames[salt]).join(", ");

const soda: SaltGrams[] = [{ salt: "sodium-bicarbonate", grams: 0 }];
const fresh: Concentrate = { id: "", name: nameBy(soda), litres: 0.25, salts: soda, note: "" };

export function ConcentrateOf({ params }: { params: Params }) {
  return (
    <OfWaters what="concentrate" params={params} title={water.concentrateTitle} find={(view, id) => view.concentrates.find(({ concentrate }) => concentrate.id === id)}>
      {(item, view) => <Form key={params.id} view={view} item={item} />}
    </OfWaters>
  );
}

function Form({ view, item }: { view: WaterView; item: ConcentrateItem | undefined }) {
  const typing = useTyping(item?.concentrate ?? fresh);
  const { typed, set, doing } = typing;
  const wrong = Number.isNaN(typed.litres) || typed.salts.some(({ grams }) => Number.isNaN(grams));
  const reading = useAnswer(wrong ? undefined : { ...typed, name: "", note: "" }, (asked) => command("concentrate.read", asked));
  const setSalts = (salts: SaltGrams[]) => set({ salts, ...(typed.name === nameBy(typed.salts) && { name: nameBy(salts) }) });
  return (
    <ItemForm
      {...typing}
      what="concentrate"
      title={water.concentrateTitle}
      nameHint={water.concentrateNameHint}
      kept={item?.kept}
      save={(each) => command("concentrate.save", each)}
      wrong={wrong}
      before={<SaltCare />}
    >
      <NumberField
        label={water.volume}
        range={millilitres}
        value={typed.litres ? Math.round(typed.litres * 1e5) / 100 : undefined}
        onValue={(value) => set({ litres: (value ?? 0) / 1000 })}
        error={doing.at("litres")}
      />
      <Salts view={view} salts={typed.salts} set={setSalts} at={doing.at} />
      {reading && reading.hardness + reading.alkalinity > 0 && <p>{water.brings(formatNumber(reading.hardness, 2), formatNumber(reading.alkalinity, 2))}</p>}
      <Doubts list={reading?.doubts ?? []} />
    </ItemForm>
  );
}

interface SaltsProps {
  view: WaterView;
  salts: readonly SaltGrams[];
  set(salts: SaltGrams[]): void;
  at(field: string): string | undefined;
}

function Salts({ view, salts, set, at }: SaltsProps) {
  const change = (index: number, part: Partial<SaltGrams>) => set(salts.map((each, place) => (place === index ? { ...each, ...part } : each)));
  const unused = view.salts.find(({ salt }) => salts.every((each) => each.salt !== salt));
  return (
    <section class="stack close">
      <h2>{water.salts}</h2>
      {salts.map((each, index) => (
        <div key={index} class="stack close">
          <Choice
            label={water.salt}
            value={each.salt}
            onValue={(salt) => change(index, { salt: salt as Salt })}
            options={view.salts.map((one) => ({ value: one.salt, label: saltName(one) }))}
            error={at(`salts.${index}.salt`)}
          />
          <div class="fields">
            <NumberField label={water.grams} range={weighed} value={each.grams || undefined} onValue={(grams) => change(index, { grams: grams ?? 0 })} error={at(`salts.${index}.grams`) ?? at("salts")} />
            <Button kind="quiet" onPress={() => set(salts.filter((_, place) => place !== index))}>
              {water.takeOut(water.saltNames[each.salt])}
            </Button>
          </div>
        </div>
      ))}
      {unused && <Button onPress={() => set([...salts, { salt: unused.salt, grams: 0 }])}>{water.addSalt}</Button>}
    </section>
  );
}

/** Minerals are for brewing water: food-grade, dissolved, and never drunk as they are. */
export function SaltCare() {
  return (
    <Care title={water.careTitle}>
      {water.care.map((text) => (
        <p key={text} class="small">
          {text}
        </p>
      ))}
    </Care>
  );
}
