// The sync mark at the top of every screen: always visible, always honest, and the way to what stands behind it.

import { useView } from "../../model/core.ts";
import { paths } from "../../paths.ts";
import * as words from "../../words.ts";
import { SyncMark, type SyncState } from "../sync/sync.tsx";
import type { BookStatus, SyncMark as Mark } from "../../gen/types.ts";
import { isAway } from "../away/away.tsx";

const states: { [mark in Mark]: SyncState } = { device: "device", waiting: "device", sending: "way", shared: "shared", trouble: "refused" };

/** A place has room for the whole sentence; a screen under it says the short word. */
export function PageSync({ short, standing }: { short: boolean; standing?: BookStatus | undefined }) {
  const sync = useView("sync").value;
  if (!sync) return null;
  if (isAway(standing)) {
    return (
      <a class="page-sync" href={paths.sync}>
        <SyncMark state="device" text={words.club.away[standing]} />
      </a>
    );
  }
  return (
    <a class="page-sync" href={paths.sync}>
      <SyncMark state={states[sync.mark]} text={short ? words.syncShort[sync.mark] : words.syncMark[sync.mark]} />
    </a>
  );
}
