// A scale, a refractometer or a thermometer, and what it is sure of. The first of its kind is used from then on.

import type { Home, Instrument, InstrumentItem, InstrumentKind } from "../gen/types.ts";
import { command } from "../model/core.ts";
import { precisionUnits } from "../model/items.ts";
import type { Range } from "../model/numbers.ts";
import type { Params } from "../model/router.ts";
import { NumberField, Pick } from "../parts/field/field.tsx";
import * as words from "../words.ts";
import { items } from "../words.ts";
import { ItemForm, OfCupboard, useTyping } from "./itemform.tsx";

const usual: { [kind in InstrumentKind]: number } = { scale: 0.1, refractometer: 0.05, thermometer: 1 };
const ranges: { [kind in InstrumentKind]: Range } = {
  scale: { min: 0, max: 20, usual: [0.01, 2], unit: precisionUnits.scale },
  refractometer: { min: 0, max: 20, usual: [0.005, 0.2], unit: precisionUnits.refractometer },
  thermometer: { min: 0, max: 20, usual: [0.1, 3], unit: precisionUnits.thermometer },
};

const of = (what: InstrumentKind): Instrument => ({ id: "", name: items.instrumentName[what], what, precision: usual[what], note: "" });

export function InstrumentOf({ params }: { params: Params }) {
  return (
    <OfCupboard what="instrument" params={params} title={items.newInstrument} find={(view, id) => view.instruments.find(({ instrument }) => instrument.id === id)}>
      {(item, view) => <Form key={params.id} item={item} home={view.home} />}
    </OfCupboard>
  );
}

/** Saves it; the first scale and the first refractometer become the kitchen's. */
export async function keepInstrument(instrument: Instrument, home: Home): Promise<Home> {
  const { id } = await command("instrument.save", instrument);
  const place = instrument.what === "scale" ? "scale" : instrument.what === "refractometer" ? "refractometer" : undefined;
  if (!place || home[place] !== "") return home;
  const with_ = { ...home, [place]: id };
  await command("home.save", with_);
  return with_;
}

function Form({ item, home }: { item: InstrumentItem | undefined; home: Home }) {
  const typing = useTyping(item?.instrument ?? of("scale"));
  const { typed, set, doing } = typing;
  const kinds = Object.entries(words.instrumentKind).map(([value, label]) => ({ value, label }));
  const own = Object.values(items.instrumentName).every((name) => name !== typed.name);
  const choose = (what: InstrumentKind) => set({ what, precision: usual[what], ...(!own && { name: items.instrumentName[what] }) });
  const first = typed.what !== "thermometer" && home[typed.what] === "";
  return (
    <ItemForm
      {...typing}
      what="instrument"
      title={items.newInstrument}
      kept={item?.kept}
      save={(instrument) => keepInstrument(instrument, home)}
      before={<Pick label={items.what} value={typed.what} onValue={(what) => choose(what as InstrumentKind)} options={kinds} error={doing.at("what")} />}
    >
      <NumberField
        key={typed.what}
        label={items.precision}
        hint={items.precisionHint[typed.what]}
        range={ranges[typed.what]}
        value={typed.precision || undefined}
        onValue={(precision) => set({ precision: precision ?? 0 })}
        error={doing.at("precision")}
      />
      {first && <p class="small soft">{items.becomesUsual}</p>}
    </ItemForm>
  );
}
