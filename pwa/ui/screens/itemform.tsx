// The frame of a form for one thing of the Cupboard: its name first and its note last, kept half filled in, put away at the end.

import { useState } from "preact/hooks";
import type { ComponentChildren } from "preact";
import type { CupboardView, ItemKind, Kept, WaterView } from "../gen/types.ts";
import { useView, type Seen } from "../model/core.ts";
import { back, type Params } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { TextField } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { Nothing, Shown } from "../parts/shown/shown.tsx";
import { Problem, useDoing, type Doing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { items } from "../words.ts";
import { Put } from "./waterput.tsx";

interface Named {
  id: string;
  name: string;
  note: string;
}

/** What is typed of an item, and what the core said about it. */
export interface Typing<T> {
  typed: T;
  set(change: Partial<T>): void;
  doing: Doing;
  /** The name is not the person's own yet: a choice may fill it in. */
  unnamed: boolean;
}

export function useTyping<T extends Named>(first: T): Typing<T> {
  const [typed, setTyped] = useState(first);
  const [given, setGiven] = useState("");
  const doing = useDoing();
  const unnamed = typed.name === "" || typed.name === given;
  return {
    typed,
    doing,
    unnamed,
    set: (change) => {
      if (change.name !== undefined) setGiven(Object.keys(change).length > 1 ? change.name : "");
      setTyped((now) => ({ ...now, ...change }));
      doing.clear();
    },
  };
}

/** Of these numbers, those that cannot be, emptied: their fields are about to go, and nobody could mend them. */
export function emptied<T>(typed: T, names: readonly (keyof T)[]): Partial<T> {
  return Object.fromEntries(names.filter((name) => Number.isNaN(typed[name])).map((name) => [name, 0])) as Partial<T>;
}

interface Props<T extends Named> extends Typing<T> {
  what: ItemKind;
  title: string;
  nameHint?: string;
  kept?: Kept | undefined;
  save(typed: T): Promise<unknown>;
  /** A number in it cannot be, beside those of its own fields. */
  wrong?: boolean;
  /** Stands above the name: a choice that names it. */
  before?: ComponentChildren;
  children: ComponentChildren;
}

export function ItemForm<T extends Named>({ what, title, nameHint, kept, typed, set, doing, save, wrong: within = false, before, children }: Props<T>) {
  const wrong = within || Object.values(typed).some(Number.isNaN);
  const run = () =>
    doing.run(async () => {
      await save(typed);
      back(paths.items(what));
    });
  return (
    <Page
      title={typed.id ? typed.name || title : title}
      above={paths.items(what)}
      {...(kept && { aside: kept.away ? words.water.away : kept.brews > 0 && items.brews(kept.brews) })}
      action={
        <>
          <Problem refusal={doing.refusal} />
          <Button kind="primary" busy={doing.busy} disabled={wrong} onPress={() => void run()}>
            {words.common.save}
          </Button>
        </>
      }
    >
      {before}
      <TextField label={items.name} hint={nameHint} value={typed.name} maxLength={80} onValue={(name) => set({ name } as Partial<T>)} error={doing.at("name")} />
      {children}
      <TextField label={items.note} value={typed.note} rows={2} onValue={(note) => set({ note } as Partial<T>)} error={doing.at("note")} />
      {kept && <Put what={what} id={typed.id} away={kept.away} />}
    </Page>
  );
}

interface OfProps<V, I> {
  what: ItemKind;
  params: Params;
  title: string;
  find(view: V, id: string): I | undefined;
  children: (item: I | undefined, view: V) => ComponentChildren;
}

/** The item that an address names, or a new one. */
export const OfCupboard = <I,>(props: OfProps<CupboardView, I>) => <Of seen={useView("cupboard")} {...props} />;

/** The same of waters and concentrates, whose screens need what the trade says of water. */
export const OfWaters = <I,>(props: OfProps<WaterView, I>) => <Of seen={useView("water")} {...props} />;

function Of<V, I>({ seen, what, params, title, find, children }: OfProps<V, I> & { seen: Seen<V> }) {
  const id = params.id ?? "";
  return (
    <Shown seen={seen} title={title} above={paths.items(what)}>
      {(view) => {
        const item = id === "new" ? undefined : find(view, id);
        return id === "new" || item ? children(item, view) : <Nothing text={words.water.gone} />;
      }}
    </Shown>
  );
}
