// What could not be shared. It is safe on this device; the person decides.

import type { Refused as Entry } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import { formatCode } from "../model/going.ts";
import { Button } from "../parts/button/button.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { Sure } from "../parts/sure/sure.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { cupboard } from "../words.ts";

export function Refused() {
  const seen = useView("refused");
  return (
    <Shown seen={seen} title={cupboard.refusedTitle} above={paths.sync}>
      {({ refused }) => (
        <Page title={cupboard.refusedTitle} above={paths.sync}>
          <p class="soft">{refused.length === 0 ? cupboard.refusedNone : cupboard.refusedSafe}</p>
          {refused.map((entry) => (
            <Row key={entry.id} entry={entry} />
          ))}
        </Page>
      )}
    </Shown>
  );
}

function Row({ entry }: { entry: Entry }) {
  const doing = useDoing();
  const own = words.errors[entry.code];
  return (
    <section class="card stack close">
      <h2>
        {words.refusedWhat[entry.what]}
        {entry.sampleCode > 0 && ` ${formatCode(entry.sampleCode)}`}
        <span class="small soft"> · {entry.name || cupboard.inNotebook}</span>
      </h2>
      <p>{own?.text ?? entry.text}</p>
      {own?.hint && <p>{own.hint}</p>}
      <Problem refusal={doing.refusal} />
      {entry.retry && (
        <Button busy={doing.busy} onPress={() => void doing.run(() => command("refused.retry", { id: entry.id }))}>
          {cupboard.retry}
        </Button>
      )}
      <Sure kind="quiet" label={cupboard.giveUp} question={cupboard.giveUpSure} onYes={() => command("refused.discard", { id: entry.id })} />
    </section>
  );
}
