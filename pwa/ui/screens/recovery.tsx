// The recovery code: made, shown once, written down, and that checked.

import { useState } from "preact/hooks";
import type { DevicesView, RecoveryMade } from "../gen/types.ts";
import { useMinute } from "../model/clock.ts";
import { command, useView } from "../model/core.ts";
import { formatMoment } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { TextField } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { QR } from "../parts/qr/qr.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Care, Problem, StatusLine, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import { cupboard } from "../words.ts";
import "./recovery.css";

export function Recovery() {
  const seen = useView("devices");
  const [made, setMade] = useState<RecoveryMade>();
  return (
    <Shown seen={seen} title={cupboard.recovery} above={paths.cupboard}>
      {(view) =>
        made && !view.recovery.confirmed ? <WriteDown made={made} /> : <Where view={view} onMade={setMade} />
      }
    </Shown>
  );
}

function Where({ view, onMade }: { view: DevicesView; onMade(made: RecoveryMade): void }) {
  const now = useMinute();
  const doing = useDoing();
  const { made, at, confirmed } = view.recovery;
  const make = () => doing.run(async () => onMade(await command("recovery.make", {})));
  return (
    <Page
      title={cupboard.recovery}
      above={paths.cupboard}
      action={
        <>
          <Problem refusal={doing.refusal} />
          <Button kind={confirmed ? "plain" : "primary"} busy={doing.busy} onPress={() => void make()}>
            {made ? cupboard.recoveryAgain : cupboard.recoveryMake}
          </Button>
        </>
      }
    >
      <p>{cupboard.recoveryIntro}</p>
      <dl class="facts">
        <dt>{cupboard.recovery}</dt>
        <dd>{!made ? cupboard.recoveryNone : confirmed ? cupboard.recoveryOk(formatMoment(at, now)) : cupboard.recoveryUnconfirmed(formatMoment(at, now))}</dd>
      </dl>
      {made && <p class="soft">{cupboard.recoveryAgainText}</p>}
    </Page>
  );
}

function WriteDown({ made }: { made: RecoveryMade }) {
  const [last, setLast] = useState("");
  const doing = useDoing();
  return (
    <Page
      title={cupboard.recoveryIs}
      above={paths.cupboard}
      action={
        <>
          <Problem refusal={doing.refusal?.field === "last" ? undefined : doing.refusal} />
          <Button kind="primary" busy={doing.busy} onPress={() => void doing.run(() => command("recovery.confirm", { last }))}>
            {cupboard.recoveryConfirm}
          </Button>
        </>
      }
    >
      <div class="recovery-paper">
        <p class="print-only">{cupboard.recoveryPaper}</p>
        <p class="recovery-code">{made.code}</p>
        <QR text={made.link} label={cupboard.recoveryIs} />
      </div>
      <Care title={cupboard.recoveryWarnTitle}>
        <p>{cupboard.recoveryWarn}</p>
      </Care>
      <Button onPress={() => print()}>{cupboard.recoveryPrint}</Button>
      <TextField label={cupboard.recoveryLast} hint={cupboard.recoveryLastHint} value={last} capitals="characters" onValue={setLast} error={doing.at("last")} />
      <StatusLine />
    </Page>
  );
}
