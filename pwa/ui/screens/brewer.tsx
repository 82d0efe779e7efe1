// A brewer by its geometry, picked by a small drawing.

import type { Brewer, BrewerItem, Filter, Geometry } from "../gen/types.ts";
import { command } from "../model/core.ts";
import { formatNumber, type Range } from "../model/numbers.ts";
import type { Params } from "../model/router.ts";
import { NumberField, Pick } from "../parts/field/field.tsx";
import { WeightField } from "../parts/measure/measure.tsx";
import { ShapePick } from "../parts/shape/shape.tsx";
import * as words from "../words.ts";
import { items } from "../words.ts";
import { ItemForm, OfCupboard, useTyping } from "./itemform.tsx";

const fresh: Brewer = { id: "", name: "", geometry: "other", filter: "", holds: 0, retained: 0, note: "" };
const waters: Range = { min: 0, max: 20_000, usual: [50, 3000] };
const liquids: Range = { min: 0, max: 10, usual: [0.8, 5], unit: items.perGram };

/** What such a brewer mostly has. */
export const usualFilter = (geometry: Geometry): Filter => (geometry === "cupping-bowl" ? "none" : geometry === "other" ? "" : "paper");

export function BrewerOf({ params }: { params: Params }) {
  return (
    <OfCupboard what="brewer" params={params} title={items.newBrewer} find={(view, id) => view.brewers.find(({ brewer }) => brewer.id === id)}>
      {(item) => <Form key={params.id} item={item} />}
    </OfCupboard>
  );
}

function Form({ item }: { item: BrewerItem | undefined }) {
  const typing = useTyping(item?.brewer ?? fresh);
  const { typed, set, doing, unnamed } = typing;
  const filters = Object.entries(words.filter).map(([value, label]) => ({ value, label }));
  const shape = (geometry: Geometry) => set({ geometry, ...(!typed.id && { filter: usualFilter(geometry) }), ...(unnamed && { name: items.brewerName[geometry] }) });
  return (
    <ItemForm
      {...typing}
      what="brewer"
      title={items.newBrewer}
      kept={item?.kept}
      save={(brewer) => command("brewer.save", brewer)}
      before={<ShapePick label={items.shape} value={typed.id || !unnamed || typed.name ? typed.geometry : ""} onValue={shape} error={doing.at("geometry")} />}
    >
      <Pick label={items.filter} value={typed.filter} onValue={(filter) => set({ filter: filter as Filter })} options={filters} error={doing.at("filter")} />
      <details class="fold" open={typed.holds > 0 || typed.retained > 0}>
        <summary>{items.more}</summary>
        <div class="stack">
          <WeightField label={items.holds} hint={items.holdsHint} range={waters} value={typed.holds || undefined} onValue={(value) => set({ holds: value ?? 0 })} error={doing.at("holds")} />
          <NumberField label={items.retained} hint={items.retainedHint} range={liquids} value={typed.retained || undefined} onValue={(value) => set({ retained: value ?? 0 })} error={doing.at("retained")} />
          {item && <Keeps item={item} />}
        </div>
      </details>
    </ItemForm>
  );
}

function Keeps({ item: { retained, learned } }: { item: BrewerItem }) {
  const one = (value: number) => formatNumber(value, 1);
  return (
    <p class="small soft">
      {items.keeps(one(retained.value), one(retained.low), one(retained.high))} {learned > 0 ? items.learned(learned) : items.notLearned}
    </p>
  );
}
