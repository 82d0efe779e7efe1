// A bag of one's own: a name is enough. With its grams, brews count it down; with its dates, it tells how long it rested.

import type { Additive, Allergen, Choice as DeclaredChoice, Coffee, CoffeeItem, CoffeeKind, Declared } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import { proposeNew } from "../model/draft.ts";
import { coffeeAbout } from "../model/items.ts";
import type { Range } from "../model/numbers.ts";
import { go, type Params } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { Checks, flip } from "../parts/checks/checks.tsx";
import { Choice, MomentField, NumberField, TextField } from "../parts/field/field.tsx";
import { WeightField } from "../parts/measure/measure.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { items } from "../words.ts";
import { ItemForm, OfCupboard, useTyping } from "./itemform.tsx";

const moisture: Range = { min: 0, max: 13, usual: [0, 5], unit: words.units.percent };
const bag: Range = { min: 0, max: 100_000, usual: [20, 2000] };
const allergens = Object.keys(words.allergen) as Allergen[];
const additives = Object.keys(words.additive) as Additive[];

const fresh: Coffee = {
  id: "", name: "", from: "", caffeine: "regular", grams: 0, kept: 0, roasted: "", frozen: "", thawed: "", batch: "", moisture: 0, note: "",
  declared: { choice: "unknown", allergens: [], additives: [], note: "" },
};

export function CoffeeOf({ params }: { params: Params }) {
  return (
    <OfCupboard what="coffee" params={params} title={items.newCoffee} find={(view, id) => view.coffees.find(({ coffee }) => coffee.id === id)}>
      {(item) => <Form key={params.id} item={item} />}
    </OfCupboard>
  );
}

function Form({ item }: { item: CoffeeItem | undefined }) {
  const typing = useTyping(item?.coffee ?? fresh);
  const { typed, set, doing } = typing;
  const day = (name: "roasted" | "frozen" | "thawed") => (
    <MomentField day label={items[name]} value={typed[name]} onValue={(value) => set({ [name]: value })} error={doing.at(name)} />
  );
  return (
    <ItemForm {...typing} what="coffee" title={items.newCoffee} nameHint={items.coffeeName} kept={item?.kept} save={(coffee) => command("coffee.save", coffee)}>
      {item && coffeeAbout(item) && <p class="soft">{coffeeAbout(item)}</p>}
      {item && !item.kept.away && <BrewIt coffee={item.coffee} />}
      <div class="fields">
        <WeightField label={items.inBag} hint={items.inBagHint} range={bag} value={typed.grams || undefined} onValue={(grams) => set({ grams: grams ?? 0 })} error={doing.at("grams")} />
        {day("roasted")}
      </div>
      <DeclaredPart declared={typed.declared} onDeclared={(declared) => set({ declared })} />
      <details class="fold" open={doing.refusal !== undefined}>
        <summary>{items.more}</summary>
        <div class="stack">
          <TextField label={items.from} hint={items.fromHint} value={typed.from} maxLength={120} onValue={(from) => set({ from })} error={doing.at("from")} />
          <Choice
            label={items.caffeine}
            value={typed.caffeine}
            onValue={(caffeine) => set({ caffeine: caffeine as CoffeeKind })}
            options={Object.entries(words.coffeeKind).map(([value, label]) => ({ value, label }))}
            error={doing.at("caffeine")}
          />
          <WeightField label={items.kept} hint={items.keptHint} range={bag} value={typed.kept || undefined} onValue={(kept) => set({ kept: kept ?? 0 })} error={doing.at("kept")} />
          <div class="fields">
            {day("frozen")}
            {day("thawed")}
          </div>
          <p class="small soft">{items.freezing}</p>
          <NumberField
            label={items.moisture}
            hint={items.moistureHint}
            range={moisture}
            value={typed.moisture || undefined}
            onValue={(value) => set({ moisture: value ?? 0 })}
            error={doing.at("moisture")}
          />
          <TextField label={items.batch} value={typed.batch} maxLength={60} onValue={(batch) => set({ batch })} error={doing.at("batch")} />
        </div>
      </details>
    </ItemForm>
  );
}

function BrewIt({ coffee }: { coffee: Coffee }) {
  const last = useView("bench").value?.last;
  if (!last) return null;
  const brew = () => {
    proposeNew({ ...last, method: last.method || "drip", coffeeID: coffee.id, coffee: coffee.name });
    go(paths.brewNew);
  };
  return <Button onPress={brew}>{items.brewIt}</Button>;
}

function DeclaredPart({ declared, onDeclared }: { declared: Declared; onDeclared(declared: Declared): void }) {
  const choose = (choice: DeclaredChoice) => onDeclared(choice === "something" ? { ...declared, choice } : { ...declared, choice, allergens: [], additives: [] });
  return (
    <>
      <Choice
        label={items.declared}
        hint={items.declaredHint}
        value={declared.choice}
        onValue={(choice) => choose(choice as DeclaredChoice)}
        options={Object.entries(words.choice).map(([value, label]) => ({ value, label }))}
      />
      {declared.choice === "something" && (
        <>
          <Checks label={words.flights.additives} codes={additives} names={words.additive} chosen={declared.additives} onFlip={(code) => onDeclared({ ...declared, additives: flip(declared.additives, code) })} />
          <Checks label={words.flights.allergens} codes={allergens} names={words.allergen} chosen={declared.allergens} onFlip={(code) => onDeclared({ ...declared, allergens: flip(declared.allergens, code) })} />
        </>
      )}
    </>
  );
}
