// The sync mark at the top of every screen: always visible, always honest, and the way to what stands behind it.

import { useView } from "../../model/core.ts";
import { paths } from "../../paths.ts";
import { words } from "../../words.ts";
import { SyncMark, type SyncState } from "../sync/sync.tsx";
import type { SyncMark as Mark } from "../../gen/types.ts";

const states: { [mark in Mark]: SyncState } = { device: "device", waiting: "device", sending: "way", shared: "shared", trouble: "refused" };

export function PageSync() {
  const sync = useView("sync").value;
  if (!sync) return null;
  return (
    <a class="page-sync" href={paths.sync}>
      <SyncMark state={states[sync.mark]} text={words.syncMark[sync.mark]} />
    </a>
  );
}
