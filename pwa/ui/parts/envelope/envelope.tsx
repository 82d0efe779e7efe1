// The seal: kraft paper, and a dot of wax. A closed flap with wax is sealed, a lifted flap is open; nothing in between.

import type { ComponentChildren } from "preact";
import { formatCode } from "../../model/going.ts";
import { spokenCode } from "../../model/numbers.ts";
import "./envelope.css";

/** A sealed sample, its code large. */
export function SealedEnvelope({ code, children }: { code: ComponentChildren; children?: ComponentChildren }) {
  return (
    <div class="envelope sealed">
      <svg class="envelope-flap" viewBox="0 0 350 150" preserveAspectRatio="none" aria-hidden="true">
        <path class="flap" d="M0 0h350L175 150z" />
        <path class="edge" d="M0 0 175 150 350 0" />
      </svg>
      <Wax />
      <div class="envelope-words">
        <div class="envelope-code">{code}</div>
        {children && <div class="envelope-line">{children}</div>}
      </div>
    </div>
  );
}

/** A blind code, spoken digit by digit. */
export function BlindCode({ code }: { code: number }) {
  const text = formatCode(code);
  return (
    <>
      <span aria-hidden="true">{text}</span>
      <span class="unseen">{spokenCode(text)}</span>
    </>
  );
}

/** An opened sample, the answer on the letter. */
export function OpenEnvelope({ children }: { children: ComponentChildren }) {
  return (
    <div class="envelope open">
      <svg class="envelope-lid" viewBox="0 0 350 96" preserveAspectRatio="none" aria-hidden="true">
        <path class="flap" d="M0 96 165 4q10-6 20 0l165 92z" />
        <path class="edge" d="M0 96 165 4q10-6 20 0l165 92" />
      </svg>
      <div class="envelope-letter">{children}</div>
      <svg class="envelope-front" viewBox="0 0 350 130" preserveAspectRatio="none" aria-hidden="true">
        <path class="front" d="M0 0 175 94 350 0v130H0z" />
        <path class="edge" d="M0 0 175 94 350 0" />
      </svg>
    </div>
  );
}

/** A small sealed or open mark for lists; the word beside it says the same. */
export function SealMark({ open }: { open: boolean }) {
  return (
    <svg class={`seal-mark${open ? " open" : ""}`} viewBox="0 0 40 32" width="40" height="32" aria-hidden="true">
      {open ? (
        <>
          <path class="flap" d="M2 13 20 1.5 38 13z" />
          <path class="letter" d="M6 7h28v14H6z" />
          <path class="front" d="M2 12.5 20 24l18-11.5V31H2z" />
        </>
      ) : (
        <>
          <path class="front" d="M2 5h36v26H2z" />
          <path class="flap" d="M2 5h36L20 19z" />
          <circle class="wax" cx="20" cy="18" r="5" />
        </>
      )}
    </svg>
  );
}

function Wax() {
  return (
    <svg class="wax-seal" viewBox="0 0 56 56" width="56" height="56" aria-hidden="true">
      <path
        class="wax"
        d="M27 2.5c5-.9 9 1.700 13.500 3.600 4.800 2 8.800 3.800 11 8.600 2 4.400 1.300 8.600 1.900 13.300.6 5.100 1 9.900-2.300 14.200-3.200 4.200-7.500 5.600-12 8.200-4.500 2.700-8.900 4.300-14 2.900-4.900-1.300-8.300-4.200-12.500-6.900C8.200 43.600 4.500 41 3.200 36.100 2 31.500 3.800 27.700 4 23c.3-4.900.4-9.200 4-12.800 3.500-3.500 7.500-3.700 11.600-5.700A27 27 0 0 1 27 2.500z"
      />
      <circle class="wax-ring" cx="28" cy="28" r="19" />
      <path class="wax-mark" d="M19.500 21h17l-2.800 14.500H22.300z" />
    </svg>
  );
}
