// Where one is on a way of a few steps: done ones filled, this one large, later ones empty; the words say the same.

import "./steps.css";

export function Steps({ at, names }: { at: number; names: readonly string[] }) {
  return (
    <ol class="steps">
      {names.map((name, i) => (
        <li key={name} class={i < at ? "past" : i === at ? "here" : ""} aria-current={i === at ? "step" : undefined}>
          <span class="steps-dot" aria-hidden="true" />
          {name}
        </li>
      ))}
    </ol>
  );
}
