// The rows from which a table of bowls is put together.

import { useState } from "preact/hooks";
import type { BrewDigest } from "../gen/types.ts";
import type { Choosable } from "../model/bowlstart.ts";
import { useMinute } from "../model/clock.ts";
import { formatMoment } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { TextField } from "../parts/field/field.tsx";
import { OnwardIcon } from "../parts/icons/icons.tsx";
import { Care } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { bowls as say } from "../words.ts";

interface PickProps {
  each: Choosable;
  count: number;
  full: boolean;
  dose: number;
  onCount(by: number): void;
}

export function PickRow({ each, count, full, dose, onCount }: PickProps) {
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

export function OwnCoffee({ onAdd }: { onAdd(name: string): void }) {
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
export function Warnings({ chosen }: { chosen: Choosable[] }) {
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

/** Tables that were set lately. */
export function Lately({ brews }: { brews: readonly BrewDigest[] }) {
  const now = useMinute();
  const tables = new Map<string, BrewDigest[]>();
  for (const brew of brews) if (brew.table) tables.set(brew.table, [...(tables.get(brew.table) ?? []), brew]);
  if (tables.size === 0) return null;
  return (
    <section class="stack close">
      <h2>{say.lately}</h2>
      <ul class="list">
        {[...tables].map(([table, list]) => (
          <li key={table}>
            <a class="list-row" href={paths.bowls(table)}>
              <span class="grow">{say.inBowls(list.length)}</span>
              <span class="small soft">{formatMoment(Math.min(...list.map((each) => each.began)), now)}</span>
              <OnwardIcon />
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}
