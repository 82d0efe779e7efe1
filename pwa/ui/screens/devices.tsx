// One's own devices: this one, the others, adding one, removing a lost one.

import { useState } from "preact/hooks";
import type { Device, DevicesView } from "../gen/types.ts";
import { useMinute, useSecond } from "../model/clock.ts";
import { command, useView } from "../model/core.ts";
import { formatClock } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { CopyText } from "../parts/copy/copy.tsx";
import { TextField } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { QR } from "../parts/qr/qr.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Problem, StatusLine, useDoing } from "../parts/status/status.tsx";
import { Sure } from "../parts/sure/sure.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { cupboard, club } from "../words.ts";
import { JoiningList } from "./enter.tsx";

export function Devices() {
  const seen = useView("devices");
  return (
    <Shown seen={seen} title={cupboard.devices} above={paths.cupboard}>
      {(view) => <Open view={view} />}
    </Shown>
  );
}

function Open({ view }: { view: DevicesView }) {
  const doing = useDoing();
  const now = useMinute();
  return (
    <Page title={cupboard.devices} above={paths.cupboard}>
      <p class="soft">{cupboard.devicesIntro}</p>
      <ul class="list">
        {view.devices.map((device) => (
          <li key={device.device} class="device">
            <Row device={device} />
          </li>
        ))}
      </ul>
      <JoiningList joining={view.joining} />
      {view.pairing && <Pairing pairing={view.pairing} />}
      <Problem refusal={doing.refusal} />
      {(!view.pairing || view.pairing.expires < now) && (
        <Button busy={doing.busy} onPress={() => void doing.run(() => command("device.pair", {}))}>
          {cupboard.pair}
        </Button>
      )}
    </Page>
  );
}

function Row({ device }: { device: Device }) {
  const clubs = [cupboard.deviceClubs(device.clubs)];
  if (device.missing > 0) clubs.push(cupboard.deviceMissing(device.missing));
  return (
    <div class="stack close device-row">
      <p>
        <strong>{device.name || words.common.unnamed}</strong>
        {device.this && <span class="small soft"> · {cupboard.thisDevice}</span>}
        <br />
        <span class="small soft">{clubs.join(", ")}</span>
      </p>
      {device.this ? (
        <NameThis name={device.name} />
      ) : (
        <Sure label={cupboard.removeDevice(device.name)} question={cupboard.removeSure(device.name || words.common.unnamed)} onYes={() => command("device.remove", { device: device.device })} />
      )}
    </div>
  );
}

function NameThis({ name }: { name: string }) {
  const [text, setText] = useState(name);
  const [saved, setSaved] = useState(false);
  const doing = useDoing();
  return (
    <>
      <TextField
        label={cupboard.deviceName}
        value={text}
        maxLength={40}
        onValue={(value) => {
          setText(value);
          setSaved(false);
        }}
        error={doing.at("name")}
      />
      <Problem refusal={doing.refusal?.field === "name" ? undefined : doing.refusal} />
      {text !== name && (
        <Button busy={doing.busy} onPress={async () => setSaved(await doing.run(() => command("device.name", { name: text })))}>
          {words.common.save}
        </Button>
      )}
      <StatusLine>{saved && words.common.saved}</StatusLine>
    </>
  );
}

function Pairing({ pairing }: { pairing: NonNullable<DevicesView["pairing"]> }) {
  const now = useSecond();
  if (pairing.expires < now) return <p>{cupboard.pairOver}</p>;
  return (
    <section class="stack" aria-label={cupboard.pairTitle}>
      <h2 class="title">{cupboard.pairTitle}</h2>
      <p>{cupboard.pairIntro}</p>
      <p class="small soft">{cupboard.pairFor(formatClock(pairing.expires - now))}</p>
      <QR text={pairing.link} label={club.inviteScan} />
      <CopyText label={club.inviteLink} text={pairing.link} />
      <CopyText label={club.inviteText} text={pairing.text} />
    </section>
  );
}
