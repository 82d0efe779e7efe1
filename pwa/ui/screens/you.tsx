// What to call the person.

import { useState } from "preact/hooks";
import type { NotebookView } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import { Button } from "../parts/button/button.tsx";
import { TextField } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Problem, StatusLine, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { cupboard } from "../words.ts";

export function You() {
  const seen = useView("notebook");
  return (
    <Shown seen={seen} title={cupboard.you} above={paths.cupboard}>
      {(view) => <Form view={view} />}
    </Shown>
  );
}

function Form({ view }: { view: NotebookView }) {
  const [name, setName] = useState(view.name);
  const [saved, setSaved] = useState(false);
  const doing = useDoing();
  const save = async () => setSaved(await doing.run(() => command("notebook.name", { name })));
  return (
    <Page
      title={cupboard.you}
      above={paths.cupboard}
      action={
        <>
          <Problem refusal={doing.refusal} />
          <StatusLine>{saved && words.common.saved}</StatusLine>
          <Button kind="primary" busy={doing.busy} onPress={() => void save()}>
            {cupboard.nameSave}
          </Button>
        </>
      }
    >
      <TextField
        label={cupboard.name}
        hint={words.club.yourNameHint}
        value={name}
        maxLength={40}
        capitals="words"
        onValue={(value) => {
          setName(value);
          setSaved(false);
        }}
        error={doing.at("name")}
      />
    </Page>
  );
}
