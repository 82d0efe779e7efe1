// The Cupboard: what one has, and this device's data.

import type { DevicesView, ItemKind } from "../gen/types.ts";
import { useView } from "../model/core.ts";
import { installed, installPrompt } from "../model/browser.ts";
import { itemKinds, rowsOf } from "../model/items.ts";
import { formatTemperature } from "../model/units.ts";
import { place } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { OnwardIcon } from "../parts/icons/icons.tsx";
import { Page } from "../parts/page/page.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { cupboard } from "../words.ts";
import { Kitchen } from "./kitchen.tsx";

export function Cupboard() {
  return (
    <Page title={cupboard.title}>
      <Things asks />
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
      <div class="stack">
        <Things />
        <Drawers />
      </div>
    </nav>
  );
}

const recoveryWord = ({ made, confirmed }: DevicesView["recovery"]) =>
  !made ? cupboard.recoveryNone : confirmed ? words.common.done : cupboard.recoveryOpen;

/** Items first: what one has. Before there is anything, three questions stand above it. */
function Things({ asks = false }: { asks?: boolean }) {
  const view = useView("cupboard").value;
  /** The one there is by its name, many by their number. */
  const here = (kind: ItemKind) => {
    const rows = view ? rowsOf(kind, view).filter(({ kept }) => !kept.away) : [];
    return rows.length === 0 ? words.common.none : rows.length === 1 ? rows[0]!.name : String(rows.length);
  };
  const empty = view !== undefined && view.brewers.length + view.grinders.length + view.coffees.length + view.instruments.length === 0 && view.home.altitude === 0;
  return (
    <>
      {asks && empty && <Kitchen home={view.home} />}
      <List
        rows={[
          ...itemKinds.map((kind): Drawer => [paths.items(kind), words.itemKind[kind], view ? here(kind) : ""]),
          [paths.home, words.home.title, view ? words.home.boils(formatTemperature(view.boiling)) : ""],
        ]}
      />
    </>
  );
}

function Drawers() {
  const notebook = useView("notebook").value;
  const sync = useView("sync").value;
  const brews = useView("bench").value?.brews ?? 0;
  const devices = useView("devices").value;
  const drawers: Drawer[] = [
    [paths.you, cupboard.you, notebook?.name || words.common.unnamed],
    [paths.brewLog, cupboard.brews, String(brews)],
    [paths.data, words.data.title, ""],
    [paths.sync, cupboard.sync, sync ? words.syncMark[sync.mark] : ""],
    [paths.devices, cupboard.devices, devices ? String(devices.devices.length) : ""],
    [paths.recovery, cupboard.recovery, devices ? recoveryWord(devices.recovery) : ""],
    [paths.recover, cupboard.recoverTitle, ""],
    [paths.about, cupboard.about, ""],
  ];
  return (
    <section class="stack close">
      <h2>{words.items.here}</h2>
      <List rows={drawers} />
    </section>
  );
}

type Drawer = [href: string, label: string, value: string];

function List({ rows }: { rows: readonly Drawer[] }) {
  return (
    <ul class="list">
      {rows.map(([href, label, value]) => (
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
