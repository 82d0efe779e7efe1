// The screens that nobody sees first come as a file of their own: the first screen does not wait for them. It is fetched as soon
// as that stands, from what the service worker keeps.

import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { ComponentType } from "preact";
import { Button } from "../parts/button/button.tsx";
import { Page } from "../parts/page/page.tsx";
import { words } from "../words.ts";

type Rooms = typeof import("../rooms.ts");
const rooms = signal<Rooms | undefined>(undefined);
const missing = signal(false);
let coming: Promise<void> | undefined;

/** Fetches the rooms once; after a failure it may be called again. */
export function openRooms(): Promise<void> {
  coming ??= import("../rooms.ts").then(
    (loaded) => {
      rooms.value = loaded;
      missing.value = false;
    },
    () => {
      coming = undefined;
      missing.value = true;
    },
  );
  return coming;
}

const made = new Map<keyof Rooms, unknown>();

/** The screen of that name, which says that it is coming until it has come. */
export function room<K extends keyof Rooms>(name: K): Rooms[K] {
  let screen = made.get(name);
  if (!screen) {
    screen = (props: object) => {
      const Open = rooms.value?.[name] as ComponentType<object> | undefined;
      return Open ? <Open {...props} /> : <Coming />;
    };
    made.set(name, screen);
  }
  return screen as Rooms[K];
}

function Coming() {
  useEffect(() => void openRooms(), []);
  if (!missing.value) {
    return (
      <Page title={words.places.tonight} name="">
        <p class="soft" role="status">
          {words.common.loading}
        </p>
      </Page>
    );
  }
  return (
    <Page title={words.common.roomMissing} above="/">
      <p>{words.common.roomMissingText}</p>
      <Button kind="primary" onPress={() => void openRooms()}>
        {words.common.again}
      </Button>
    </Page>
  );
}
