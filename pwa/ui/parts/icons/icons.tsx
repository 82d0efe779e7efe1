// Icons drawn for Hushcup on one 24 px grid: strokes of 1.6, round ends, no fill but a dot. They stand beside words, so a
// screen reader skips them.

import type { ComponentChildren } from "preact";
import "./icons.css";

function Icon({ children }: { children: ComponentChildren }) {
  return (
    <svg class="icon" viewBox="0 0 24 24" width="24" height="24" aria-hidden="true" focusable="false">
      {children}
    </svg>
  );
}

/** A brewing cone on its foot. */
export const BenchIcon = () => (
  <Icon>
    <path d="M5 4.5h14l-4.6 9.2H9.6z" />
    <path d="M9.6 13.7h4.8v2.6H9.6z" />
    <path d="M6.5 19.5h11" />
  </Icon>
);

/** A closed envelope. */
export const FlightsIcon = () => (
  <Icon>
    <path d="M3.5 6h17v12.5h-17z" />
    <path d="M3.5 6.5 12 13.2l8.5-6.7" />
  </Icon>
);

/** A path that climbs. */
export const PracticeIcon = () => (
  <Icon>
    <path d="M3.5 19c3.4 0 3.2-4.2 6.4-4.4 3.4-.2 2.8-4.3 5.4-5.2l3-3.2" />
    <circle class="dot" cx="19.3" cy="5.2" r="1.9" />
  </Icon>
);

/** A cupboard with four doors. */
export const CupboardIcon = () => (
  <Icon>
    <path d="M4 4.5h16v15H4zM12 4.5v15M4 12h16" />
    <path d="M9.8 8v.8M14.2 8v.8M9.8 15.4v.8M14.2 15.4v.8" />
  </Icon>
);

/** Two houses. */
export const ClubIcon = () => (
  <Icon>
    <path d="M3 18.5v-6.2L7.6 7.5l4.6 4.8v6.2z" />
    <path d="M12.2 13.4 16.6 9l4.4 4.6v4.9h-8.8" />
  </Icon>
);

/** A cup that is cooling. */
export const CupIcon = () => (
  <Icon>
    <path d="M4.5 10h12v5.2a4.3 4.3 0 0 1-4.3 4.3H8.8a4.3 4.3 0 0 1-4.3-4.3z" />
    <path d="M16.5 11.5h1.7a2.4 2.4 0 0 1 0 4.8h-1.9" />
    <path d="M8.5 3.5v3M12.5 3.5v3" />
  </Icon>
);

export const BackIcon = () => (
  <Icon>
    <path d="M14.5 5 7.5 12l7 7" />
  </Icon>
);

export const OnwardIcon = () => (
  <Icon>
    <path d="m9.5 5 7 7-7 7" />
  </Icon>
);

/** Hot, fragile: take care. */
export const CareIcon = () => (
  <Icon>
    <path d="M12 4 3.5 19h17z" />
    <path d="M12 10v4.2M12 16.6v.2" />
  </Icon>
);
