// The Cupboard: what one has, and this device's data.

import type { DevicesView } from "../gen/types.ts";
import { useView } from "../model/core.ts";
import { installed, installPrompt } from "../model/browser.ts";
import { place } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { OnwardIcon } from "../parts/icons/icons.tsx";
import { Page } from "../parts/page/page.tsx";
import { paths } from "../paths.ts";
import { words } from "../words.ts";

const { cupboard } = words;

export function Cupboard() {
  return (
    <Page title={cupboard.title}>
      <Drawers />
      {installPrompt.value && !installed() && (
        <Button onPress={() => void installPrompt.value?.prompt()}>{words.club.installPrompt}</Button>
      )}
      <p class="small soft">{words.about.open}</p>
    </Page>
  );
}

export function CupboardPane() {
  return (
    <nav class="page" aria-label={cupboard.title}>
      <header class="page-head">
        <p class="title">{cupboard.title}</p>
      </header>
      <Drawers />
    </nav>
  );
}

const recoveryWord = ({ made, confirmed }: DevicesView["recovery"]) =>
  !made ? cupboard.recoveryNone : confirmed ? words.common.done : cupboard.recoveryOpen;

function Drawers() {
  const notebook = useView("notebook").value;
  const sync = useView("sync").value;
  const brews = useView("bench").value?.brews ?? 0;
  const devices = useView("devices").value;
  const drawers: [string, string, string][] = [
    [paths.you, cupboard.you, notebook?.name || words.common.unnamed],
    [paths.brewLog, cupboard.brews, String(brews)],
    [paths.mix, words.water.mix, ""],
    [paths.data, words.data.title, ""],
    [paths.sync, cupboard.sync, sync ? words.syncMark[sync.mark] : ""],
    [paths.devices, cupboard.devices, devices ? String(devices.devices.length) : ""],
    [paths.recovery, cupboard.recovery, devices ? recoveryWord(devices.recovery) : ""],
    [paths.recover, cupboard.recoverTitle, ""],
    [paths.about, cupboard.about, ""],
  ];
  return (
    <ul class="list">
      {drawers.map(([href, label, value]) => (
        <li key={href}>
          <a class="list-row" href={href} aria-current={place.value.path === href ? "page" : undefined}>
            <span class="grow">{label}</span>
            <span class="small soft">{value}</span>
            <OnwardIcon />
          </a>
        </li>
      ))}
    </ul>
  );
}
