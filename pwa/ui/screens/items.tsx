// What one has of a kind; what was put away is folded below.

import type { ItemKind } from "../gen/types.ts";
import { useView } from "../model/core.ts";
import { itemKinds, rowsOf, type ItemRow } from "../model/items.ts";
import type { Params } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { OnwardIcon } from "../parts/icons/icons.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shape } from "../parts/shape/shape.tsx";
import { Nothing, Shown } from "../parts/shown/shown.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { items } from "../words.ts";
import { SampleRows } from "./samplerows.tsx";
import "./items.css";

export function Items({ params }: { params: Params }) {
  const what = params.what as ItemKind;
  const seen = useView("cupboard");
  if (!itemKinds.includes(what)) return <Nothing text={words.common.notFoundText} />;
  return (
    <Shown seen={seen} title={words.itemKind[what]} above={paths.cupboard}>
      {(view) => {
        const rows = rowsOf(what, view);
        const away = rows.filter(({ kept }) => kept.away);
        return (
          <Page
            title={words.itemKind[what]}
            above={paths.cupboard}
            action={
              <Button kind="primary" href={paths.itemNew(what)}>
                {items.add[what]}
              </Button>
            }
          >
            <Rows what={what} rows={rows.filter(({ kept }) => !kept.away)} />
            {what === "coffee" && <Samples />}
            {rows.length === away.length && <p class="soft">{items.none[what]}</p>}
            {(what === "water" || what === "concentrate") && <Button href={paths.mix}>{words.water.mix}</Button>}
            {what === "recipe" && <Button href={paths.recipe}>{words.recipe.paste}</Button>}
            {away.length > 0 && (
              <details class="fold">
                <summary>{items.put(away.length)}</summary>
                <Rows what={what} rows={away} />
              </details>
            )}
          </Page>
        );
      }}
    </Shown>
  );
}

/** Portions of a club's flights are coffees that one has, too. */
function Samples() {
  const samples = useView("bench").value?.samples ?? [];
  if (samples.length === 0) return null;
  return (
    <section class="stack close">
      <h2>{items.samples}</h2>
      <SampleRows samples={samples} />
    </section>
  );
}

function Rows({ what, rows }: { what: ItemKind; rows: readonly ItemRow[] }) {
  if (rows.length === 0) return null;
  return (
    <ul class="list">
      {rows.map(({ id, name, about, shape, kept, left }) => (
        <li key={id}>
          <a class="list-row" href={paths.item(what, id)}>
            {shape && <Shape geometry={shape} />}
            <span class="grow">
              <strong>{name}</strong>
              <br />
              <span class="small soft">{[about, kept.brews > 0 && items.brews(kept.brews)].filter(Boolean).join(" · ")}</span>
              {left !== undefined && (
                <span class="item-left" aria-hidden="true">
                  <i style={{ width: `${Math.round(left * 100)}%` }} />
                </span>
              )}
            </span>
            <OnwardIcon />
          </a>
        </li>
      ))}
    </ul>
  );
}
