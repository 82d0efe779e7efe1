// A table of bowls is set: what stands in how many, one water, one dose for all.

import { useState } from "preact/hooks";
import type { BenchView, BrewSetup, CupboardView } from "../gen/types.ts";
import { choosables, flights, ownBowl, startOf } from "../model/bowlstart.ts";
import { askToKeep } from "../model/browser.ts";
import { command, useView } from "../model/core.ts";
import { formatNumber, type Range } from "../model/numbers.ts";
import { go } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { Choice } from "../parts/field/field.tsx";
import { TemperatureField, WeightField } from "../parts/measure/measure.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import { bowls as say } from "../words.ts";
import "./bowls.css";
import { BowlsCaffeine } from "./bowlscaffeine.tsx";
import { Lately, OwnCoffee, PickRow, Warnings } from "./bowlspick.tsx";
import { boilingAt, ranges as brewRanges } from "./brewsetup.tsx";
import { BrewCaution } from "./caution.tsx";

export function BowlsForm() {
  const bench = useView("bench");
  const cupboard = useView("cupboard").value;
  return (
    <Shown seen={bench} title={say.title} above={paths.bench}>
      {(view) => <Form bench={view} cupboard={cupboard} />}
    </Shown>
  );
}

const MOST = 24;

const ranges = {
  dose: { min: 1, max: 100, usual: [4, 20] },
  water: { min: 20, max: 1000, usual: [60, 300] },
} satisfies { [name: string]: Range };

const kettles = { ...brewRanges.kettle, usual: [80, brewRanges.kettle.max] as [number, number] };

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
      <BrewCaution first={say.care} />
      <section class="stack close">
        <h2>{say.what}</h2>
        <p class="small soft">{say.whatHint}</p>
        {flights(bench.samples).map(([title, samples]) => (
          <Button key={title} onPress={() => setCounts({ ...counts, ...Object.fromEntries(samples.map((each) => [each.sample, Math.max(counts[each.sample] ?? 0, 1)])) })}>
            {say.oneOfEach(title)}
          </Button>
        ))}
        <ul class="list">
          {choosable.map((each) => (
            <li key={each.key}>
              <PickRow each={each} count={counts[each.key] ?? 0} full={list.length >= MOST} dose={setup.dose} onCount={(by) => count(each.key, by)} />
            </li>
          ))}
        </ul>
        <OwnCoffee
          onAdd={(name) => {
            setOwn([...new Set(own).add(name)]); // added twice it is one coffee, in a bowl more
            count(ownBowl(name).key, 1);
          }}
        />
      </section>
      <Warnings chosen={choosable.filter((each) => (counts[each.key] ?? 0) > 0)} />
      <div class="fields">
        <WeightField label={say.dose} range={ranges.dose} value={setup.dose || undefined} onValue={(dose) => set({ dose: dose ?? 0 })} error={doing.at("dose")} wet />
        <WeightField label={say.water} range={ranges.water} value={setup.water || undefined} onValue={(water) => set({ water: water ?? 0 })} error={doing.at("water")} wet />
        <TemperatureField label={say.kettle} range={boilingAt(kettles, cupboard?.boiling ?? 0)} value={setup.kettle || undefined} onValue={(kettle) => set({ kettle: kettle ?? 0 })} error={doing.at("kettle")} wet />
      </div>
      {setup.dose > 0 && setup.water > 0 && <p class="soft">{say.ratio(formatNumber(setup.water / setup.dose, 1))}</p>}
      <WaterChoice cupboard={cupboard} setup={setup} set={set} />
      <BowlsCaffeine setup={setup} bowls={list.length} />
      <Lately brews={bench.recent} />
    </Page>
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
