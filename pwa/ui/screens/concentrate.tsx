// A concentrate: salts dissolved in pure water, dosed by the millilitre and never drunk.

import { useState } from "preact/hooks";
import type { Concentrate, Salt, SaltGrams, WaterView } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import { formatNumber, type Range } from "../model/numbers.ts";
import { back, type Params } from "../model/router.ts";
import { formatFormula, useAnswer } from "../model/water.ts";
import { Button } from "../parts/button/button.tsx";
import { Choice, NumberField, TextField } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { Nothing, Shown } from "../parts/shown/shown.tsx";
import { Care, Problem, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import { words } from "../words.ts";
import { Put } from "./waterput.tsx";
import { Doubts } from "./waterreads.tsx";

const { water } = words;

const millilitres: Range = { min: 10, max: 20_000, usual: [50, 2000], unit: water.millilitre };
const weighed: Range = { min: 0, max: 10_000, usual: [0.1, 200], unit: words.units.gram };

const fresh: Concentrate = { id: "", name: "", litres: 0.25, salts: [{ salt: "sodium-bicarbonate", grams: 0 }], note: "" };

export function ConcentrateItem({ params }: { params: Params }) {
  const seen = useView("water");
  return (
    <Shown seen={seen} title={water.concentrateTitle} above={paths.items("concentrate")}>
      {(view) => {
        if (params.id === "new") return <Form key="new" view={view} first={fresh} />;
        const item = view.concentrates.find(({ concentrate }) => concentrate.id === params.id);
        return item ? <Form key={params.id} view={view} first={item.concentrate} away={item.kept.away} /> : <Nothing text={water.gone} />;
      }}
    </Shown>
  );
}

function Form({ view, first, away }: { view: WaterView; first: Concentrate; away?: boolean }) {
  const [typed, setTyped] = useState(first);
  const doing = useDoing();
  const set = (change: Partial<Concentrate>) => {
    setTyped({ ...typed, ...change });
    doing.clear();
  };
  const wrong = Number.isNaN(typed.litres) || typed.salts.some(({ grams }) => Number.isNaN(grams));
  const reading = useAnswer(wrong ? undefined : { ...typed, name: "", note: "" }, (asked) => command("concentrate.read", asked));
  const save = () =>
    doing.run(async () => {
      await command("concentrate.save", typed);
      back(paths.items("concentrate"));
    });
  return (
    <Page
      title={first.id ? first.name : water.concentrateTitle}
      above={paths.items("concentrate")}
      {...(away && { aside: water.away })}
      action={
        <>
          <Problem refusal={doing.refusal?.field === "name" ? undefined : doing.refusal} />
          <Button kind="primary" busy={doing.busy} disabled={wrong} onPress={() => void save()}>
            {words.common.save}
          </Button>
        </>
      }
    >
      <SaltCare />
      <TextField label={water.name} hint={water.concentrateNameHint} value={typed.name} maxLength={60} onValue={(name) => set({ name })} error={doing.at("name")} />
      <NumberField
        label={water.volume}
        range={millilitres}
        value={typed.litres ? Math.round(typed.litres * 1e5) / 100 : undefined}
        onValue={(value) => set({ litres: (value ?? 0) / 1000 })}
        error={doing.at("litres")}
      />
      <Salts view={view} salts={typed.salts} set={(salts) => set({ salts })} at={doing.at} />
      {reading && reading.hardness + reading.alkalinity > 0 && <p>{water.brings(formatNumber(reading.hardness, 2), formatNumber(reading.alkalinity, 2))}</p>}
      <Doubts list={reading?.doubts ?? []} />
      <TextField label={water.note} value={typed.note} rows={2} onValue={(note) => set({ note })} error={doing.at("note")} />
      {first.id && <Put what="concentrate" id={first.id} away={away ?? false} />}
    </Page>
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
            options={view.salts.map(({ salt, formula }) => ({ value: salt, label: `${water.saltNames[salt]}, ${formatFormula(formula)}` }))}
            error={at(`salts.${index}.salt`)}
          />
          <div class="fields">
            <NumberField label={water.grams} range={weighed} value={each.grams || undefined} onValue={(grams) => change(index, { grams: grams ?? 0 })} error={at(`salts.${index}.grams`)} />
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
