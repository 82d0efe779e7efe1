// The big button of the Bench. A finger must rest on it for a moment; drips, a wiping cloth and several contacts at once
// mark nothing. Keyboard and screen reader press it as usual.

import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import type { ComponentChildren } from "preact";
import "./hold.css";

const HOLD_MS = 350;

/** A resting finger moves a little; a wiping cloth moves more. */
const SLIP_PX = 24;

/** Contacts anywhere on the screen. A hand or a cloth makes several; a finger that means it is alone. */
const contacts = new Set<number>();
let crowd = false;
const alone = new Set<() => void>();

function watchContacts(): void {
  const down = (event: PointerEvent) => {
    contacts.add(event.pointerId);
    if (contacts.size > 1) {
      crowd = true;
      alone.forEach((release) => release());
    }
  };
  const up = (event: PointerEvent) => {
    contacts.delete(event.pointerId);
    if (contacts.size === 0) crowd = false; // all of them must have left
  };
  addEventListener("pointerdown", down, true);
  addEventListener("pointerup", up, true);
  addEventListener("pointercancel", up, true);
  addEventListener("blur", () => contacts.clear());
}

let watching = false;

interface Props {
  /** So many milliseconds after the touch began. */
  onHeld: (ago: number) => void;
  hint?: string;
  children: ComponentChildren;
  busy?: boolean;
  plain?: boolean;
  /** For the one thing to do, across the kitchen. */
  tall?: boolean;
  /** Takes the focus from the button that stood in its place and is gone: the next step is the next press of the same key. */
  focus?: boolean;
}

/** Whatever the hold brings under the finger is not tapped as the finger leaves. */
const keepToItself = (event: Event) => event.preventDefault();

interface Contact {
  pointer: number;
  x: number;
  y: number;
  timer: ReturnType<typeof setTimeout>;
}

export function HoldButton({ onHeld, hint, children, busy, plain, tall, focus }: Props) {
  const [holding, setHolding] = useState(false);
  const contact = useRef<Contact | undefined>(undefined);
  const button = useRef<HTMLButtonElement>(null);

  const release = () => {
    if (contact.current) clearTimeout(contact.current.timer);
    contact.current = undefined;
    setHolding(false);
  };

  useLayoutEffect(() => {
    if (focus && document.activeElement === document.body) button.current?.focus({ preventScroll: true }); // before the page's title does
  }, []);

  useEffect(() => {
    if (!watching) watchContacts();
    watching = true;
    alone.add(release);
    return () => {
      alone.delete(release);
      release();
    };
  }, []);

  const press = (event: PointerEvent) => {
    if (busy) return;
    if (contact.current || crowd) return release(); // a second contact: not a finger that means it
    const pressed = event.currentTarget as HTMLElement;
    const timer = setTimeout(() => {
      release();
      pressed.addEventListener("touchend", keepToItself, { once: true });
      onHeld(HOLD_MS);
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
      ref={button}
      class={`hold${plain ? " plain" : ""}${tall ? " tall" : ""}${holding ? " holding" : ""}`}
      aria-busy={busy || undefined}
      onPointerDown={press}
      onPointerMove={move}
      onPointerUp={release}
      onPointerCancel={release}
      onPointerLeave={release}
      onContextMenu={(event) => event.preventDefault()}
      onClick={(event) => {
        // a click without a pointer comes from a key or a screen reader
        if (event.detail === 0 && !busy) onHeld(0);
      }}
    >
      <span class="hold-words">{children}</span>
      {hint && <span class="hold-hint">{hint}</span>}
    </button>
  );
}
