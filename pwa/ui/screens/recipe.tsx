// A recipe of one's own, or a starting point: looked at, scaled, brewed, sent, printed.

import { useState } from "preact/hooks";
import type { CupboardView, RecipeItem } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import { proposeNew } from "../model/draft.ts";
import { go, type Params } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { CopyText } from "../parts/copy/copy.tsx";
import { Page } from "../parts/page/page.tsx";
import { QR } from "../parts/qr/qr.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { recipe as says } from "../words.ts";
import { OfCupboard } from "./itemform.tsx";
import { RecipeForm } from "./recipeform.tsx";
import { asWritten, RecipeShow, setupOf } from "./recipeshow.tsx";
import { Put } from "./waterput.tsx";

export function RecipeOf({ params }: { params: Params }) {
  return (
    <OfCupboard what="recipe" params={params} title={says.title} find={(view, id) => view.recipes.find(({ recipe }) => recipe.id === id)}>
      {(item) => <Written key={params.id} item={item} />}
    </OfCupboard>
  );
}

export function RecipeEdit({ params }: { params: Params }) {
  return (
    <OfCupboard what="recipe" params={params} title={says.title} find={(view, id) => view.recipes.find(({ recipe }) => recipe.id === id)}>
      {(item) => <RecipeForm key={params.id} item={item} />}
    </OfCupboard>
  );
}

function Written({ item }: { item: RecipeItem | undefined }) {
  const view = useView("cupboard").value;
  if (!item || !view) return <RecipeForm item={undefined} />;
  return <Looked item={item} view={view} />;
}

function Looked({ item, view }: { item: RecipeItem; view: CupboardView }) {
  const { recipe, kept, starting } = item;
  const [scaling, setScaling] = useState(() => asWritten(recipe));
  const last = useView("bench").value?.last;
  const setup = setupOf(recipe, scaling, view, last);
  const brew = () => {
    if (!setup) return;
    proposeNew(setup);
    go(paths.brewNew);
  };
  return (
    <Page
      title={recipe.title}
      above={paths.items("recipe")}
      aside={kept.away ? words.water.away : starting ? says.starting : kept.brews > 0 ? words.items.brews(kept.brews) : undefined}
      action={
        !kept.away && (
          <Button kind="primary" disabled={!setup} onPress={brew}>
            {says.brew}
          </Button>
        )
      }
    >
      <RecipeShow recipe={recipe} view={view} scaling={scaling} setScaling={setScaling} />
      <div class="pair no-print">
        <Button href={paths.recipeEdit(recipe.id)}>{says.edit}</Button>
        <Button onPress={() => print()}>{says.print}</Button>
      </div>
      <Send item={item} />
      {!starting && <Put what="recipe" id={recipe.id} away={kept.away} />}
    </Page>
  );
}

/** Letters of a link that a phone's camera still reads from a phone's screen. */
const MOST_QR = 1200;

function Send({ item: { recipe } }: { item: RecipeItem }) {
  const [link, setLink] = useState("");
  const doing = useDoing();
  const make = () => doing.run(async () => setLink((await command("recipe.link", { what: "recipe", id: recipe.id })).link));
  if (!link) {
    return (
      <div class="stack close no-print">
        <Problem refusal={doing.refusal} />
        <Button busy={doing.busy} onPress={() => void make()}>
          {says.send}
        </Button>
      </div>
    );
  }
  return (
    <section class="stack no-print">
      <p class="soft">{says.sendText}</p>
      {link.length <= MOST_QR ? <QR text={link} label={says.qr} /> : <p>{says.noQR}</p>}
      <CopyText label={says.sendLabel} text={link} send={says.sendTitle(recipe.title)} />
    </section>
  );
}
