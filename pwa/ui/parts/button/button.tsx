// A thing to press. Primary is the one that matters on a screen; quiet is a way out.

import type { ComponentChildren } from "preact";
import "./button.css";

interface Props {
  kind?: "primary" | "plain" | "quiet";
  /** An address makes it a link that looks the same. */
  href?: string;
  onPress?: () => void;
  /** Sends the form that it stands in. */
  submit?: boolean;
  disabled?: boolean;
  /** Under way: it cannot be pressed twice. */
  busy?: boolean;
  /** For wet hands: 72 px. */
  wet?: boolean;
  pressed?: boolean;
  children: ComponentChildren;
}

export function Button({ kind = "plain", href, onPress, submit, disabled, busy, wet, pressed, children }: Props) {
  const look = `button ${kind}${wet ? " wet" : ""}`;
  if (href !== undefined) {
    return (
      <a class={look} href={href}>
        {children}
      </a>
    );
  }
  return (
    <button
      type={submit ? "submit" : "button"}
      class={look}
      disabled={disabled}
      aria-busy={busy || undefined}
      aria-pressed={pressed}
      onClick={busy ? undefined : onPress}
    >
      {children}
    </button>
  );
}
