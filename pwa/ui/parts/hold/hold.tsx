// The big button of the Bench. A finger must rest on it for a moment; drips, a wiping cloth and several contacts at once
// mark nothing. Keyboard and screen reader press it as usual.

import { useRef, useState } from "preact/hooks";
import type { ComponentChildren } from "preact";
import "./hold.css";

const HOLD_MS = 350;

/** A resting finger moves a little; a wiping cloth moves more. */
const SLIP_PX = 24;

interface Props {
  onHeld: () => void;
  hint?: string;
  children: ComponentChildren;
  busy?: boolean;
  plain?: boolean;
}

interface Contact {
  pointer: number;
  x: number;
  y: number;
  timer: ReturnType<typeof setTimeout>;
}

export function HoldButton({ onHeld, hint, children, busy, plain }: Props) {
  const [holding, setHolding] = useState(false);
  const contact = useRef<Contact | undefined>(undefined);

  const release = () => {
    if (contact.current) clearTimeout(contact.current.timer);
    contact.current = undefined;
    setHolding(false);
  };

  const press = (event: PointerEvent) => {
    if (busy) return;
    if (contact.current) return release(); // a second contact: not a finger that means it
    const timer = setTimeout(() => {
      release();
      onHeld();
    }, HOLD_MS);
    contact.current = { pointer: event.pointerId, x: event.clientX, y: event.clientY, timer };
    setHolding(true);
  };

  const move = (event: PointerEvent) => {
    const held = contact.current;
    if (held?.pointer === event.pointerId && Math.hypot(event.clientX - held.x, event.clientY - held.y) > SLIP_PX) release();
  };

  return (
    <button
      type="button"
      class={`hold${plain ? " plain" : ""}${holding ? " holding" : ""}`}
      aria-busy={busy || undefined}
      onPointerDown={press}
      onPointerMove={move}
      onPointerUp={release}
      onPointerCancel={release}
      onPointerLeave={release}
      onContextMenu={(event) => event.preventDefault()}
      onClick={(event) => {
        // a click without a pointer comes from a key or a screen reader
        if (event.detail === 0 && !busy) onHeld();
      }}
    >
      <span class="hold-words">{children}</span>
      {hint && <span class="hold-hint">{hint}</span>}
    </button>
  );
}
