// A table of bowls is set: what stands in how many, one water, one dose for all.

import { useState } from "preact/hooks";
import type { BenchView, Bowl, BrewSetup, CupboardView } from "../gen/types.ts";
import { askToKeep } from "../model/browser.ts";
import { command, useView } from "../model/core.ts";
import { formatCode } from "../model/going.ts";
import { formatNumber, type Range } from "../model/numbers.ts";
import { go } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { declaredWords, needsCare } from "../parts/declared/declared.ts";
import { Choice, NumberField, TextField } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Care, Problem, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import { words } from "../words.ts";
import "./bowls.css";
import { BowlsCaffeine } from "./bowlscaffeine.tsx";
import { Caution } from "./caution.tsx";

const { bowls: say, units } = words;

export function BowlsForm() {
  const bench = useView("bench");
  const cupboard = useView("cupboard").value;
  return (
    <Shown seen={bench} title={say.title} above={paths.bench}>
      {(view) => <Form bench={view} cupboard={cupboard} />}
    </Shown>
  );
}

/** Something that can stand in a bowl. */
interface Choosable {
  key: string;
  name: string;
  note: string;
  /** g there are; undefined when nobody knows. */
  left: number | undefined;
  bowl: Bowl;
  warn: string;
}

const MOST = 24;

const ranges = {
  dose: { min: 1, max: 100, usual: [4, 20], unit: units.gram },
  water: { min: 20, max: 1000, usual: [60, 300], unit: units.gram },
  kettle: { min: 1, max: 100, usual: [80, 100], unit: units.celsius },
} satisfies { [name: string]: Range };

function Form({ bench, cupboard }: { bench: BenchView; cupboard: CupboardView | undefined }) {
  const [counts, setCounts] = useState<{ [key: string]: number }>({});
  const [own, setOwn] = useState<string[]>([]);
  const [changes, setChanges] = useState<Partial<BrewSetup>>({});
  const [sure, setSure] = useState<string[]>([]);
  const doing = useDoing();
  const choosable = [...choosables(bench, cupboard), ...own.map(ownBowl)];
  const setup: BrewSetup = { ...startOf(bench, cupboard), ...changes };
  const set = (change: Partial<BrewSetup>) => {
    setChanges({ ...changes, ...change });
    setSure([]);
    doing.clear();
  };
  const list = choosable.flatMap((each) => Array.from({ length: counts[each.key] ?? 0 }, () => each.bowl));
  const wrong = [setup.dose, setup.water, setup.kettle].some(Number.isNaN);
  const begin = (confirmed: string[]) => {
    setSure(confirmed);
    return doing.run(async () => {
      const ratio = setup.dose > 0 && setup.water > 0 ? setup.water / setup.dose : setup.ratio;
      const { table } = await command("bowls.start", { setup: { ...setup, ratio }, bowls: list, sure: confirmed });
      go(paths.bowls(table), "replace");
      void askToKeep();
    });
  };
  const count = (key: string, by: number) => setCounts({ ...counts, [key]: Math.max((counts[key] ?? 0) + by, 0) });
  return (
    <Page
      title={say.title}
      above={paths.bench}
      action={
        <>
          <Problem refusal={doing.refusal} onSure={(field) => void begin([...sure, field])} />
          <Button kind="primary" busy={doing.busy} disabled={wrong || list.length === 0} onPress={() => void begin(sure)}>
            {say.begin(list.length)}
          </Button>
        </>
      }
    >
      <Caution caution="hot-water" title={words.bench.careTitle} text={say.care} />
      <section class="stack close">
        <h2>{say.what}</h2>
        <p class="small soft">{say.whatHint}</p>
        <ul class="list">
          {choosable.map((each) => (
            <li key={each.key}>
              <PickRow each={each} count={counts[each.key] ?? 0} full={list.length >= MOST} dose={setup.dose} onCount={(by) => count(each.key, by)} />
            </li>
          ))}
        </ul>
        <OwnCoffee
          onAdd={(name) => {
            setOwn([...own, name]);
            setCounts({ ...counts, [`own ${name}`]: 1 });
          }}
        />
      </section>
      <Warnings chosen={choosable.filter((each) => (counts[each.key] ?? 0) > 0)} />
      <div class="fields">
        <NumberField label={say.dose} range={ranges.dose} value={setup.dose || undefined} onValue={(dose) => set({ dose: dose ?? 0 })} error={doing.at("dose")} wet />
        <NumberField label={say.water} range={ranges.water} value={setup.water || undefined} onValue={(water) => set({ water: water ?? 0 })} error={doing.at("water")} wet />
        <NumberField label={say.kettle} range={ranges.kettle} value={setup.kettle || undefined} onValue={(kettle) => set({ kettle: kettle ?? 0 })} error={doing.at("kettle")} wet />
      </div>
      {setup.dose > 0 && setup.water > 0 && <p class="soft">{say.ratio(formatNumber(setup.water / setup.dose, 1))}</p>}
      <WaterChoice cupboard={cupboard} setup={setup} set={set} />
      <BowlsCaffeine setup={setup} bowls={list.length} />
    </Page>
  );
}

function choosables(bench: BenchView, cupboard: CupboardView | undefined): Choosable[] {
  const nothing = { club: "", sample: "", coffee: "", coffeeID: "", dose: 0 };
  const samples = bench.samples.map((sample) => ({
    key: sample.sample,
    name: formatCode(sample.code),
    note: `${sample.title}, ${say.left(formatNumber(sample.left, 1))}`,
    left: sample.left,
    bowl: { ...nothing, club: sample.club, sample: sample.sample },
    warn: needsCare(sample.declared) ? declaredWords(sample.declared) : "",
  }));
  const coffees = (cupboard?.coffees ?? []).filter((item) => !item.kept.away).map(({ coffee, left }) => ({
    key: coffee.id,
    name: coffee.name,
    note: coffee.grams > 0 ? say.left(formatNumber(left, 1)) : "",
    left: coffee.grams > 0 ? left : undefined,
    bowl: { ...nothing, coffee: coffee.name, coffeeID: coffee.id },
    warn: "",
  }));
  return [...samples, ...coffees];
}

const ownBowl = (name: string): Choosable => ({
  key: `own ${name}`,
  name,
  note: "",
  left: undefined,
  bowl: { club: "", sample: "", coffee: name, coffeeID: "", dose: 0 },
  warn: "",
});

/** The starting recipe of a cupping bowl, with the home's own water and grinder. */
function startOf(bench: BenchView, cupboard: CupboardView | undefined): BrewSetup {
  const recipe = cupboard?.recipes.find((each) => each.recipe.geometry === "cupping-bowl")?.recipe;
  const water = cupboard?.waters.find((each) => each.water.id === cupboard.home.water)?.water;
  const last = bench.last.method === "bowl" ? bench.last : undefined;
  const dose = last?.dose || recipe?.dose || 0;
  const ratio = last?.ratio || recipe?.ratio || 0;
  const kettle = last?.kettle || recipe?.kettle || 0;
  return {
    coffee: "", coffeeID: "", method: "bowl", geometry: "cupping-bowl", brewer: words.geometry["cupping-bowl"], brewerID: "", filter: "none",
    dose, ratio, water: last?.water || Math.round(dose * ratio),
    kettle: cupboard && cupboard.boiling > 0 ? Math.min(kettle, Math.floor(cupboard.boiling)) : kettle,
    grinder: bench.last.grinder, grinderID: bench.last.grinderID, grind: last?.grind ?? "",
    waterID: last?.waterID || (water?.id ?? ""), waterName: last?.waterName || (water?.name ?? ""),
    recipeID: recipe?.id ?? "", recipe: recipe?.title ?? "", steps: recipe?.steps ?? [], scoops: 0, sinceGrinding: 0,
  };
}

interface PickProps {
  each: Choosable;
  count: number;
  full: boolean;
  dose: number;
  onCount(by: number): void;
}

function PickRow({ each, count, full, dose, onCount }: PickProps) {
  const most = each.left !== undefined && dose > 0 ? Math.floor(each.left / dose) : undefined;
  return (
    <div class="bowl-pick" role="group" aria-label={each.name}>
      <span>
        <strong>{each.name}</strong>
        {each.note && <span class="small soft"> {each.note}</span>}
        {most !== undefined && count > most && (
          <span class="small" role="status">
            <br />
            {say.tooMany(each.name, most)}
          </span>
        )}
      </span>
      <span class="bowl-count">
        <Button disabled={count === 0} onPress={() => onCount(-1)}>
          <span aria-hidden="true">−</span>
          <span class="unseen">{say.less(each.name)}</span>
        </Button>
        <output aria-label={say.inBowls(count)}>{count}</output>
        <Button disabled={full} onPress={() => onCount(1)}>
          <span aria-hidden="true">+</span>
          <span class="unseen">{say.more(each.name)}</span>
        </Button>
      </span>
    </div>
  );
}

function OwnCoffee({ onAdd }: { onAdd(name: string): void }) {
  const [name, setName] = useState("");
  const add = () => {
    onAdd(name.trim());
    setName("");
  };
  return (
    <form
      class="notice-field"
      onSubmit={(event) => {
        event.preventDefault();
        if (name.trim()) add();
      }}
    >
      <TextField label={say.own} value={name} maxLength={120} onValue={setName} />
      <Button submit disabled={name.trim() === ""}>
        {say.addOwn}
      </Button>
    </form>
  );
}

/** What is declared in the open, before any bag is opened. */
function Warnings({ chosen }: { chosen: Choosable[] }) {
  const warned = chosen.filter((each) => each.warn !== "");
  if (warned.length === 0) return null;
  return (
    <Care title={words.flights.careTitle}>
      {warned.map((each) => (
        <p key={each.key}>
          {each.name}: {each.warn}
        </p>
      ))}
      <p class="small">{words.bench.grinderShared}</p>
    </Care>
  );
}

function WaterChoice({ cupboard, setup, set }: { cupboard: CupboardView | undefined; setup: BrewSetup; set(change: Partial<BrewSetup>): void }) {
  const waters = (cupboard?.waters ?? []).filter((each) => !each.kept.away).map((each) => each.water);
  if (waters.length === 0) return null;
  return (
    <Choice
      label={say.waterOf}
      value={setup.waterID}
      options={[{ value: "", label: say.waterNone }, ...waters.map(({ id, name }) => ({ value: id, label: name }))]}
      onValue={(id) => set({ waterID: id, waterName: waters.find((each) => each.id === id)?.name ?? "" })}
    />
  );
}
