// Begins a club, with oneself as its organiser.

import { useState } from "preact/hooks";
import { askToKeep } from "../model/browser.ts";
import { command, useView } from "../model/core.ts";
import { go } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { TextField } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import { club } from "../words.ts";

export function ClubNew() {
  const notebook = useView("notebook").value;
  const [name, setName] = useState("");
  const [person, setPerson] = useState("");
  const doing = useDoing();
  const create = () =>
    doing.run(async () => {
      if (notebook && !notebook.name) await command("notebook.name", { name: person });
      const made = await command("club.create", { name });
      go(paths.club(made.club), "replace");
      void askToKeep();
    });
  const aboutPerson = doing.refusal && notebook && !notebook.name && person.trim() === "";
  return (
    <Page
      title={club.beginTitle}
      above={paths.clubs}
      action={
        <>
          <Problem refusal={doing.refusal} />
          <Button kind="primary" busy={doing.busy} disabled={!notebook} onPress={() => void create()}>
            {club.create}
          </Button>
        </>
      }
    >
      <p class="soft">{club.noneText}</p>
      <TextField label={club.name} value={name} maxLength={60} capitals="words" onValue={setName} error={aboutPerson ? undefined : doing.at("name")} />
      {notebook && !notebook.name && (
        <TextField
          label={club.yourName}
          hint={club.yourNameHint}
          value={person}
          maxLength={40}
          capitals="words"
          onValue={setPerson}
          error={aboutPerson ? doing.at("name") : undefined}
        />
      )}
    </Page>
  );
}
