// What stands behind the sync mark: what waits, why, and how well this browser keeps things.

import { useState } from "preact/hooks";
import type { SyncView } from "../gen/types.ts";
import { askToKeep, installed, installPrompt } from "../model/browser.ts";
import { useView } from "../model/core.ts";
import { formatNumber } from "../model/numbers.ts";
import { Button } from "../parts/button/button.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { StatusLine } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { cupboard } from "../words.ts";

/** A clock that is off by less decides nothing that a person would see. */
const CLOCK_MS = 5000;

export function Sync() {
  const seen = useView("sync");
  return (
    <Shown seen={seen} title={cupboard.sync} above={paths.cupboard}>
      {(view) => (
        <Page title={cupboard.sync} above={paths.cupboard}>
          <Problem view={view} />
          <dl class="facts">
            <dt>{cupboard.waits}</dt>
            <dd>{waiting(view)}</dd>
            <dt>{cupboard.server}</dt>
            <dd>{view.host ? `${view.host}: ${words.noAnswer[view.noAnswer]}` : cupboard.noServer}</dd>
            {view.offsetSet && (
              <>
                <dt>{cupboard.clock}</dt>
                <dd>{Math.abs(view.offset) < CLOCK_MS ? cupboard.clockRight : cupboard.clockOff(formatNumber(Math.abs(view.offset) / 1000, 0))}</dd>
              </>
            )}
            <dt>{cupboard.storage}</dt>
            <dd>{view.storage === "ok" ? (view.persisted ? cupboard.storageKept : cupboard.storageLoose) : words.errors[view.storage]?.text}</dd>
          </dl>
          {view.refused > 0 && <Button href={paths.refused}>{cupboard.refused(view.refused)}</Button>}
          {!view.persisted && <Keep />}
        </Page>
      )}
    </Shown>
  );
}

function Problem({ view }: { view: SyncView }) {
  const [text, hint] = words.problem[view.problem];
  return (
    <div class="stack close" role="status">
      <p class="title">{text}</p>
      {hint && <p>{hint}</p>}
    </div>
  );
}

function waiting(view: SyncView): string {
  const parts: string[] = [];
  if (view.waiting > 0) parts.push(cupboard.waiting(view.waiting));
  if (view.onItsWay > 0) parts.push(cupboard.onItsWay(view.onItsWay));
  if (view.refused > 0) parts.push(cupboard.refused(view.refused));
  return parts.length > 0 ? parts.join(", ") : view.mark === "device" ? words.syncMark.device : cupboard.allShared;
}

function Keep() {
  const [refused, setRefused] = useState(false);
  return (
    <div class="stack close">
      <Button onPress={async () => setRefused(!(await askToKeep()))}>{cupboard.storageAsk}</Button>
      {installPrompt.value && !installed() && (
        <Button onPress={() => void installPrompt.value?.prompt()}>{words.club.installPrompt}</Button>
      )}
      <StatusLine>{refused && cupboard.storageRefused}</StatusLine>
    </div>
  );
}
