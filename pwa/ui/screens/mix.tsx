// Mixing a water: from what one has, towards a target, in parts and grams for a chosen volume. The nearest blend is worked out
// while one chooses, and what cannot be reached is said.

import { useState } from "preact/hooks";
import type { HardnessUnit, MixKind, MixSource, WaterMix, WaterTarget, WaterView } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import type { Range } from "../model/numbers.ts";
import type { Params } from "../model/router.ts";
import { factorOf, saltName, useAnswer } from "../model/water.ts";
import { Button } from "../parts/button/button.tsx";
import { Check, Choice, NumberField } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { water } from "../words.ts";
import { SaltCare } from "./concentrate.tsx";
import { Keep, Mixed } from "./mixed.tsx";

export function Mix({ params }: { params: Params }) {
  const seen = useView("water");
  return (
    <Shown seen={seen} title={water.mix} above={paths.cupboard}>
      {(view) => <Bench view={view} club={params.club} />}
    </Shown>
  );
}

const litres: Range = { min: 0.05, max: 200, usual: [0.2, 25], unit: water.litre };

/** A source that one may choose, with its name. */
interface Offer extends MixSource {
  label: string;
}

function Bench({ view, club }: { view: WaterView; club: string | undefined }) {
  const waters = offersOf(view);
  const salts: Offer[] = view.salts.map((each) => ({ what: "salt", id: each.salt, label: saltName(each) }));
  const [chosen, setChosen] = useState<readonly string[]>(() => start(waters));
  const [targets, setTargets] = useState(() => targetsOf(view));
  const [aim, setAim] = useState(club && targets.some(({ id }) => id === club) ? club : targets[0]!.id);
  const [make, setMake] = useState<number | undefined>(1);
  const target = targets.find(({ id }) => id === aim)!.target;
  const sources = [...waters, ...salts].filter((offer) => chosen.includes(keyOf(offer))).map(({ what, id }) => ({ what, id }));
  const asked = askable(sources, target, make);
  const mixed = useAnswer(asked, (question) => command("water.mix", question));
  const toggle = (offer: Offer) => setChosen(chosen.includes(keyOf(offer)) ? chosen.filter((each) => each !== keyOf(offer)) : [...chosen, keyOf(offer)]);
  const list = (offers: readonly Offer[]) =>
    offers.map((offer) => <Check key={keyOf(offer)} label={offer.label} checked={chosen.includes(keyOf(offer))} onChecked={() => toggle(offer)} />);
  return (
    <Page title={water.mix} above={paths.cupboard}>
      <p class="soft">{water.mixIntro}</p>
      <fieldset class="checks">
        <legend>{water.from}</legend>
        {list(waters)}
      </fieldset>
      <div class="pair">
        <Button kind="quiet" href={paths.itemNew("water")}>
          {water.addWater}
        </Button>
        <Button kind="quiet" href={paths.itemNew("concentrate")}>
          {water.addConcentrate}
        </Button>
      </div>
      <details class="fold">
        <summary>{water.mixSalts}</summary>
        <div class="checks">{list(salts)}</div>
      </details>
      {sources.some(({ what }) => what === "salt" || what === "concentrate") && <SaltCare />}
      <Choice label={water.towards} value={aim} onValue={setAim} options={targets.map(({ id, label }) => ({ value: id, label }))} />
      {aim === OWN && (
        <TargetFields
          view={view}
          unit={view.unit}
          target={target}
          set={(own) => setTargets(targets.map((each) => (each.id === OWN ? { ...each, target: own } : each)))}
        />
      )}
      <NumberField label={water.litres} range={litres} value={make} onValue={setMake} />
      {asked && mixed ? <Mixed view={view} mixed={mixed} target={target} litres={asked.litres} /> : !asked && <p class="soft">{begun(sources) ? water.numberMissing : water.nothingChosen}</p>}
      {mixed && <Keep mixed={mixed} view={view} />}
    </Page>
  );
}

const keyOf = ({ what, id }: MixSource) => `${what} ${id}`;

function offersOf(view: WaterView): Offer[] {
  const offer = (what: MixKind, id: string, label: string): Offer => ({ what, id, label });
  return [
    offer("pure", "", water.pure),
    ...view.waters.filter(({ kept }) => !kept.away).map(({ water: each }) => offer("water", each.id, each.name)),
    ...view.concentrates.filter(({ kept }) => !kept.away).map(({ concentrate }) => offer("concentrate", concentrate.id, `${concentrate.name}, ${water.kind.concentrate}`)),
  ];
}

/** What one has is chosen to begin with; pure water only where there is nothing else. */
function start(offers: readonly Offer[]): string[] {
  const own = offers.filter(({ what }) => what !== "pure");
  return (own.some(({ what }) => what === "water") ? own : offers).map(keyOf);
}

const OWN = "own";

interface Aim {
  id: string;
  label: string;
  target: WaterTarget;
}

function targetsOf(view: WaterView): Aim[] {
  const middle = view.ranges.map((range): Aim => ({
    id: range.id,
    label: water.middle(range.year),
    target: { hardness: (range.hardnessLow + range.hardnessHigh) / 2, alkalinity: (range.alkalinityLow + range.alkalinityHigh) / 2, magnesium: -1 },
  }));
  const clubs = view.clubs.map(({ club, name, target }): Aim => ({ id: club, label: water.ofClub(name || words.common.unnamed), target }));
  return [...clubs, ...middle, { id: OWN, label: water.ownNumbers, target: middle[0]!.target }];
}

/** A blend begins with a water. */
const begun = (sources: readonly MixSource[]) => sources.some(({ what }) => what === "pure" || what === "water");

/** Nothing is asked while a number is missing or wrong, or without a water to begin with. */
function askable(sources: MixSource[], target: WaterTarget, make: number | undefined): WaterMix | undefined {
  const known = make !== undefined && Object.values(target).every(Number.isFinite) && !Number.isNaN(make);
  return known && begun(sources) ? { sources, target, litres: make } : undefined;
}

interface TargetProps {
  view: { units: WaterView["units"] };
  unit: HardnessUnit;
  target: WaterTarget;
  set(target: WaterTarget): void;
  at?: (field: string) => string | undefined;
}

/** A target in the person's unit. Magnesium that does not matter is empty. */
export function TargetFields({ view, unit, target, set, at }: TargetProps) {
  const field = (name: "hardness" | "alkalinity") => {
    const factor = factorOf(view.units, unit, name);
    const range: Range = { min: 0, max: Math.round(2000 / factor), usual: [0, 300 / factor], unit };
    return (
      <NumberField
        label={water[name]}
        range={range}
        value={Number.isNaN(target[name]) ? undefined : Math.round((target[name] / factor) * 100) / 100}
        onValue={(value) => set({ ...target, [name]: (value ?? NaN) * factor })}
        error={at?.(name)}
      />
    );
  };
  return (
    <>
      <div class="fields">
        {field("hardness")}
        {field("alkalinity")}
      </div>
      <NumberField
        label={water.magnesiumShare}
        hint={water.magnesiumHint}
        range={{ min: 0, max: 100, unit: words.units.percent }}
        value={target.magnesium < 0 ? undefined : Math.round(target.magnesium * 1e4) / 100}
        onValue={(value) => set({ ...target, magnesium: value === undefined ? -1 : value / 100 })}
        error={at?.("magnesium")}
      />
    </>
  );
}

