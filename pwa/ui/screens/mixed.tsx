// A blend: how much of what, what it gives, what it misses, and keeping it as a water.

import { useState } from "preact/hooks";
import type { MixPart, WaterMixed, WaterQuantity, WaterTarget, WaterView } from "../gen/types.ts";
import { command } from "../model/core.ts";
import { formatNumber } from "../model/numbers.ts";
import { formatHardness, saltName } from "../model/water.ts";
import { Button } from "../parts/button/button.tsx";
import { TextField } from "../parts/field/field.tsx";
import { Problem, StatusLine, useDoing } from "../parts/status/status.tsx";
import { water, units } from "../words.ts";
import { Numbers } from "./waterreads.tsx";

interface Props {
  view: WaterView;
  mixed: WaterMixed;
  target: WaterTarget;
  litres: number;
}

export function Mixed({ view, mixed, target, litres }: Props) {
  const number = numberIn(view);
  return (
    <section class="stack close" aria-live="polite">
      <h2>{water.recipe(formatNumber(litres))}</h2>
      <Parts parts={mixed.parts} view={view} />
      <Misses mixed={mixed} view={view} />
      <h2>{water.gives}</h2>
      <p class="small soft">{water.wanted(number(target.hardness, "hardness"), number(target.alkalinity, "alkalinity"))}</p>
      <Numbers view={view} reads={mixed.reads} unit={view.unit} aim={target} />
    </section>
  );
}

export function Parts({ parts, view }: { parts: readonly MixPart[]; view: WaterView }) {
  return (
    <ul class="list">
      {parts.map((part) => (
        <li key={part.what + part.id} class="stack close">
          <p class="row apart">
            <span>{nameOf(part, view)}</span>
            <strong>{amountOf(part)}</strong>
          </p>
          {part.tooFine && (
            <p class="small">
              {water.tooFine(formatNumber(view.scale), formatNumber(part.grams / 20, 3))}{" "}
              {part.instead
                ? water.instead(formatNumber(part.instead.grams, 1), formatNumber(part.instead.litres * 1000, 0), formatNumber(part.instead.millilitres, 1))
                : water.noInstead}
            </p>
          )}
        </li>
      ))}
    </ul>
  );
}

/** A salt with its hydrate: another one has another mass. */
export function nameOf({ what, id, name }: MixPart, { salts }: Pick<WaterView, "salts">): string {
  if (what === "salt") return saltName(salts.find(({ salt }) => salt === id)!);
  return what === "pure" ? water.kind.pure : name;
}

export function amountOf({ what, litres, share, millilitres, grams }: MixPart): string {
  if (what === "salt") return `${formatNumber(grams, 3)} ${units.gram}`;
  if (what === "concentrate") return `${formatNumber(millilitres, 1)} ${water.millilitre}`;
  return `${formatNumber(litres, 2)} ${water.litre}, ${formatNumber(share * 100, 0)} ${units.percent}`;
}

const numberIn = (view: Pick<WaterView, "units" | "unit">) => (value: number, of: WaterQuantity) => formatHardness(value, view.units, view.unit, of);

/** What these sources cannot reach, each with the way out. */
export function Misses({ mixed, view }: { mixed: WaterMixed; view: Pick<WaterView, "units" | "unit"> }) {
  const number = numberIn(view);
  return (
    <div class="stack close">
      {mixed.misses.length === 0 && (
        <p>
          <strong>{water.reached}</strong>
        </p>
      )}
      {mixed.misses.map((miss) => (
        <p key={miss.quantity}>
          <strong>{water.miss(miss, number(miss.want, miss.quantity), number(miss.gets, miss.quantity))}</strong>
        </p>
      ))}
      {mixed.unsure && <p>{water.unsure}</p>}
    </div>
  );
}

/** The blend becomes a water of the Cupboard, with what it was mixed from in its note. */
export function Keep({ mixed, view }: { mixed: WaterMixed; view: WaterView }) {
  const [name, setName] = useState("");
  const [last, setLast] = useState("");
  const doing = useDoing();
  const note = water.noteOf(mixed.parts.map((part) => `${nameOf(part, view)} ${amountOf(part)}`).join(", "));
  const kept = last === name + note; // another name or another blend is not kept yet
  const keep = async () => {
    if (await doing.run(() => command("water.save", { ...mixed.gives, name, note }))) setLast(name + note);
  };
  const type = (next: string) => {
    setName(next);
    doing.clear();
  };
  return (
    <section class="stack close">
      <TextField label={water.keepName} value={name} maxLength={60} onValue={type} error={doing.at("name")} />
      <Problem refusal={doing.refusal?.field === "name" ? undefined : doing.refusal} />
      <Button busy={doing.busy} disabled={kept} onPress={() => void keep()}>
        {water.keep}
      </Button>
      <StatusLine>{kept && water.kept}</StatusLine>
    </section>
  );
}
