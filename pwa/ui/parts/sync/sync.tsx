// Where a thing is: on this device, on its way, shared; and what could not be shared. Always a word, never a colour alone.

import * as words from "../../words.ts";
import "./sync.css";

export type SyncState = "device" | "way" | "shared" | "refused" | "late" | "in";

const shapes: { [state in SyncState]: "filled" | "half" | "ring" | "cross" } = {
  device: "half",
  way: "ring",
  shared: "filled",
  in: "filled",
  late: "ring",
  refused: "cross",
};

export function SyncMark({ state, text }: { state: SyncState; text?: string }) {
  return (
    <span class={`sync ${state}`}>
      <svg viewBox="0 0 12 12" width="12" height="12" aria-hidden="true">
        {shape(shapes[state])}
      </svg>
      <span>{text ?? words.sync[state]}</span>
    </span>
  );
}

function shape(kind: "filled" | "half" | "ring" | "cross") {
  switch (kind) {
    case "filled":
      return <circle cx="6" cy="6" r="4.5" fill="currentColor" />;
    case "half":
      return (
        <>
          <circle cx="6" cy="6" r="4" fill="none" stroke="currentColor" stroke-width="1.5" />
          <path d="M6 2a4 4 0 0 0 0 8z" fill="currentColor" />
        </>
      );
    case "ring":
      return <circle cx="6" cy="6" r="4" fill="none" stroke="currentColor" stroke-width="1.5" stroke-dasharray="2.5 1.700" />;
    case "cross":
      return <path d="m2 2 8 8M10 2l-8 8" stroke="currentColor" stroke-width="1.8" fill="none" />;
  }
}
