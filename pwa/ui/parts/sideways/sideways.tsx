// What may be wider than the screen moves sideways by itself, by a finger or by keys.

import type { ComponentChildren } from "preact";
import "./sideways.css";

export function Sideways({ label, children }: { label: string; children: ComponentChildren }) {
  return (
    <div class="sideways" tabIndex={0} role="region" aria-label={label}>
      {children}
    </div>
  );
}
