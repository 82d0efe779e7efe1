// What has just happened, in its place on the page: no message flies in, none disappears before it is read. And what to
// take care of, once, in plain words.

import type { ComponentChildren } from "preact";
import { useRef, useState } from "preact/hooks";
import { Refusal } from "../../model/core.ts";
import * as words from "../../words.ts";
import { Button } from "../button/button.tsx";
import { CareIcon } from "../icons/icons.tsx";
import "./status.css";

/** A line that a screen reader speaks when it changes. */
export function StatusLine({ children }: { children?: ComponentChildren }) {
  return (
    <p class="status-line" role="status">
      {children}
    </p>
  );
}

/** An error: what happened, what is safe, what to do. */
export function Problem({ refusal, onSure }: { refusal: Refusal | undefined; onSure?: (field: string) => void }) {
  return (
    <div class="problem-place" role="alert">
      {refusal && (
        <div class="problem">
          <p>
            <strong>{refusal.text}</strong>
          </p>
          {refusal.hint && <p>{refusal.hint}</p>}
          {refusal.code === "surprising" && onSure && (
            <Button onPress={() => onSure(refusal.field)}>{words.common.itIsRight}</Button>
          )}
        </div>
      )}
    </div>
  );
}

/** Something to take care of. */
export function Care({ title, children }: { title: string; children: ComponentChildren }) {
  return (
    <div class="care" role="note">
      <CareIcon />
      <div class="stack close">
        <h2>{title}</h2>
        {children}
      </div>
    </div>
  );
}

export interface Doing {
  busy: boolean;
  refusal: Refusal | undefined;
  /** What the core said about a field of the command. */
  at(field: string): string | undefined;
  /** Runs one command at a time; says whether it went well. */
  run(work: () => Promise<unknown>): Promise<boolean>;
  clear(): void;
}

/** What is over sooner than this was never busy to the eye, and the screen need not be drawn for it. */
const BUSY_MS = 100;

/** The state of a command that a screen has sent: under way, refused, or neither. */
export function useDoing(): Doing {
  const [busy, setBusy] = useState(false);
  const running = useRef(false);
  const [refusal, setRefusal] = useState<Refusal>();
  return {
    busy,
    refusal,
    at: (field) => (refusal && (refusal.field === field || refusal.field.endsWith(`.${field}`)) ? [refusal.text, refusal.hint].filter(Boolean).join(" ") : undefined),
    clear: () => setRefusal(undefined),
    async run(work) {
      if (running.current) return false;
      running.current = true;
      const late = setTimeout(() => setBusy(true), BUSY_MS);
      setRefusal(undefined);
      try {
        await work();
        return true;
      } catch (reason) {
        setRefusal(reason instanceof Refusal ? reason : new Refusal("unknown", words.errors.unknown!.text, String(reason), ""));
        return false;
      } finally {
        clearTimeout(late);
        running.current = false;
        setBusy(false);
      }
    },
  };
}
