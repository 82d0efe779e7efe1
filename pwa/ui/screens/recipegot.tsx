// A recipe that came in a link: it stands behind the #, so no server has seen it. It is shown, and kept only on request.

import { useEffect, useState } from "preact/hooks";
import type { Recipe } from "../gen/types.ts";
import { command, Refusal, useView } from "../model/core.ts";
import { place } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { TextField } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Problem, StatusLine, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { recipe as says } from "../words.ts";
import { asWritten, RecipeShow } from "./recipeshow.tsx";

export function RecipeGot() {
  const { hash } = place.value;
  return hash ? <Read key={hash} text={hash} /> : <Paste />;
}

function Paste() {
  const [text, setText] = useState("");
  const [read, setRead] = useState("");
  if (read) return <Read text={read} again={() => setRead("")} />;
  return (
    <Page
      title={says.gotTitle}
      above={paths.items("recipe")}
      action={
        <Button kind="primary" disabled={text.trim() === ""} onPress={() => setRead(text)}>
          {says.read}
        </Button>
      }
    >
      <TextField label={says.paste} value={text} rows={4} maxLength={9000} capitals="none" onValue={setText} />
    </Page>
  );
}

function Read({ text, again }: { text: string; again?: () => void }) {
  const [got, setGot] = useState<Recipe | Refusal>();
  useEffect(() => {
    command("recipe.read", { text }).then(setGot, (reason) => setGot(reason instanceof Refusal ? reason : new Refusal("damaged", "", "", "text")));
  }, [text]);
  if (got === undefined) {
    return (
      <Page title={says.gotTitle} above={paths.items("recipe")}>
        <p class="soft">{words.common.loading}</p>
      </Page>
    );
  }
  if (got instanceof Refusal) return <Wrong code={got.code} again={again} />;
  return <Got recipe={got} />;
}

const faults: { [code: string]: string } = { damaged: says.damaged, newer: says.newer };

function Wrong({ code, again }: { code: string; again: (() => void) | undefined }) {
  return (
    <Page title={says.noneInLink} above={paths.items("recipe")}>
      <p role="alert">{faults[code] ?? says.cannotBe}</p>
      {again ? <Button onPress={again}>{says.paste}</Button> : <Button href={paths.items("recipe")}>{words.itemKind.recipe}</Button>}
    </Page>
  );
}

function Got({ recipe }: { recipe: Recipe }) {
  const seen = useView("cupboard");
  const [scaling, setScaling] = useState(() => asWritten(recipe));
  const [kept, setKept] = useState("");
  const doing = useDoing();
  const keep = () => doing.run(async () => setKept((await command("recipe.save", recipe)).id));
  return (
    <Shown seen={seen} title={recipe.title} above={paths.items("recipe")}>
      {(view) => (
        <Page
          title={recipe.title}
          above={paths.items("recipe")}
          aside={kept ? undefined : says.gotText}
          action={
            <>
              <Problem refusal={doing.refusal} />
              <StatusLine>{kept && says.kept}</StatusLine>
              {kept ? (
                <Button kind="primary" href={paths.item("recipe", kept)}>
                  {says.toIt}
                </Button>
              ) : (
                <Button kind="primary" busy={doing.busy} onPress={() => void keep()}>
                  {says.keep}
                </Button>
              )}
            </>
          }
        >
          <RecipeShow recipe={recipe} view={view} scaling={scaling} setScaling={setScaling} />
        </Page>
      )}
    </Shown>
  );
}
