// The kitchen, the same on all of one's devices; and what concerns nobody else, on this one alone.

import { useState } from "preact/hooks";
import type { Allergen, CupboardView, HardnessUnit, Home as HomeFacts, InstrumentKind, Person } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import { formatFixed, type Range } from "../model/numbers.ts";
import { back } from "../model/router.ts";
import { formatTemperature } from "../model/units.ts";
import { useAnswer } from "../model/water.ts";
import { Button } from "../parts/button/button.tsx";
import { Checks, flip } from "../parts/checks/checks.tsx";
import { Check, Choice, NumberField, Pick } from "../parts/field/field.tsx";
import { TemperatureField } from "../parts/measure/measure.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Problem, useDoing, type Doing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { home as says } from "../words.ts";

export const altitudes: Range = { min: -430, max: 5500, usual: [-50, 4500], unit: words.units.metre };
const rooms: Range = { min: 1, max: 45, usual: [10, 35] };
const allergens = Object.keys(words.allergen) as Allergen[];

export function Home() {
  const seen = useView("cupboard");
  const own = useView("person");
  return (
    <Shown seen={seen} title={says.title} above={paths.cupboard}>
      {(view) => own.value && <Form view={view} own={own.value} />}
    </Shown>
  );
}

function Form({ view, own }: { view: CupboardView; own: Person }) {
  const [home, setHome] = useState(view.home);
  const [person, setPerson] = useState(own);
  const doing = useDoing();
  const set = (change: Partial<HomeFacts>) => {
    setHome({ ...home, ...change });
    doing.clear();
  };
  const wrong = Number.isNaN(home.altitude) || Number.isNaN(home.room);
  const save = () =>
    doing.run(async () => {
      await command("home.save", home);
      await command("person.save", person);
      back(paths.cupboard);
    });
  return (
    <Page
      title={says.title}
      above={paths.cupboard}
      action={
        <>
          <Problem refusal={doing.refusal} />
          <Button kind="primary" busy={doing.busy} disabled={wrong} onPress={() => void save()}>
            {words.common.save}
          </Button>
        </>
      }
    >
      <Place home={home} set={set} at={doing.at} wrong={wrong} />
      <Usual view={view} home={home} set={set} at={doing.at} />
      <Units home={home} set={set} />
      <Yourself person={person} set={(change) => setPerson({ ...person, ...change })} />
    </Page>
  );
}

interface Part {
  home: HomeFacts;
  set(change: Partial<HomeFacts>): void;
}

/** Where the kitchen stands, and what follows: where water boils. A range that only a later version knows stays until another is chosen. */
function Place({ home, set, at, wrong }: Part & { at: Doing["at"]; wrong: boolean }) {
  const reads = useAnswer(wrong ? undefined : home, (question) => command("home.read", question));
  return (
    <section class="stack close">
      <div class="fields">
        <NumberField label={says.altitude} hint={says.altitudeHint} range={altitudes} value={home.altitude || undefined} onValue={(value) => set({ altitude: value ?? 0 })} error={at("altitude")} />
        <TemperatureField label={says.room} hint={says.roomHint} range={rooms} value={home.room || undefined} onValue={(value) => set({ room: value ?? 0 })} error={at("room")} />
      </div>
      {reads && <p>{sentence(says.boils(formatTemperature(reads.boiling)))}</p>}
      {reads && (
        <Choice
          label={says.range}
          hint={says.rangeHint}
          value={(reads.ranges.find(({ id }) => id === home.range) ?? reads.ranges[0]!).id}
          onValue={(range) => set({ range })}
          options={reads.ranges.map(({ id, tdsLow, tdsHigh, eyLow, eyHigh }) => ({ value: id, label: says.rangeOf(words.tradeRange[id], span(tdsLow, tdsHigh, 2), span(eyLow, eyHigh, 0)) }))}
          error={at("range")}
        />
      )}
    </section>
  );
}

const span = (low: number, high: number, decimals: number) => `${formatFixed(low, decimals)}–${formatFixed(high, decimals)}`;
const sentence = (text: string) => `${text[0]!.toUpperCase()}${text.slice(1)}.`;

function Usual({ view, home, set, at }: Part & { view: CupboardView; at: Doing["at"] }) {
  const none = { value: "", label: says.notSaid };
  const meters = (what: InstrumentKind, chosen: string) =>
    view.instruments.filter(({ instrument, kept }) => instrument.what === what && (!kept.away || instrument.id === chosen)).map(({ instrument }) => ({ value: instrument.id, label: instrument.name }));
  const waters = view.waters.filter(({ water, kept }) => !kept.away || water.id === home.water).map(({ water }) => ({ value: water.id, label: water.name }));
  return (
    <section class="stack close">
      <h2>{says.usual}</h2>
      <Choice label={says.scale} value={home.scale} onValue={(scale) => set({ scale })} options={[none, ...meters("scale", home.scale)]} error={at("scale")} />
      <Choice label={says.meter} value={home.refractometer} onValue={(refractometer) => set({ refractometer })} options={[none, ...meters("refractometer", home.refractometer)]} error={at("refractometer")} />
      <Choice label={says.water} value={home.water} onValue={(water) => set({ water })} options={[none, ...waters]} error={at("water")} />
    </section>
  );
}

const options = (names: { [value: string]: string }) => Object.entries(names).map(([value, label]) => ({ value, label }));

function Units({ home, set }: Part) {
  return (
    <section class="stack close">
      <h2>{says.units}</h2>
      <Pick label={says.weight} value={home.weight} onValue={(weight) => set({ weight: weight as HomeFacts["weight"] })} options={options(says.weights)} />
      <Pick label={says.temperature} value={home.temperature} onValue={(temperature) => set({ temperature: temperature as HomeFacts["temperature"] })} options={options(says.temperatures)} />
      <Choice label={says.hardness} value={home.hardness} onValue={(hardness) => set({ hardness: hardness as HardnessUnit })} options={options(words.hardnessUnit)} />
    </section>
  );
}

function Yourself({ person, set }: { person: Person; set(change: Partial<Person>): void }) {
  const box = (name: "pregnant" | "spits" | "left" | "quiet") => <Check label={says[name]} checked={person[name]} onChecked={(value) => set({ [name]: value })} />;
  return (
    <section class="stack close">
      <h2>{says.personTitle}</h2>
      <p class="soft">{says.personText}</p>
      <div>
        {box("pregnant")}
        {box("spits")}
        {box("left")}
        {box("quiet")}
      </div>
      <details class="fold">
        <summary>{says.allergensNow(person.allergens.map((code) => words.allergen[code]).join(", "))}</summary>
        <Checks label={says.allergens} codes={allergens} names={words.allergen} chosen={person.allergens} onFlip={(code) => set({ allergens: flip(person.allergens, code) })} />
      </details>
      <p class="small soft">{says.doctor}</p>
    </section>
  );
}
