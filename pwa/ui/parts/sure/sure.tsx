// Something that cannot be undone asks once more, where it stands, in words that say what happens.

import { useEffect, useRef, useState } from "preact/hooks";
import * as words from "../../words.ts";
import { Button } from "../button/button.tsx";
import { Problem, useDoing } from "../status/status.tsx";
import "./sure.css";

interface Props {
  label: string;
  question: string;
  /** What the pressed yes says; by default the label again. */
  yes?: string;
  kind?: "primary" | "plain" | "quiet";
  onYes(): Promise<unknown>;
}

export function Sure({ label, question, yes, kind = "plain", onYes }: Props) {
  const [asking, setAsking] = useState(false);
  const doing = useDoing();
  const place = useRef<HTMLDivElement>(null);
  const asked = useRef(false);
  useEffect(() => {
    // the question is read where it has come, also when it came below the edge of the screen; after a no the focus is back
    if (asking || asked.current) place.current?.querySelector<HTMLElement>(asking ? ".sure" : "button")?.focus();
    asked.current = asking;
  }, [asking]);
  if (!asking) {
    return (
      <div class="sure-place" ref={place}>
        <Button kind={kind} onPress={() => setAsking(true)}>
          {label}
        </Button>
      </div>
    );
  }
  return (
    <div class="sure-place" ref={place}>
      <div class="sure" role="group" aria-label={label} tabIndex={-1}>
        <p>{question}</p>
        <Problem refusal={doing.refusal} />
        <div class="pair">
          <Button onPress={() => setAsking(false)}>{words.common.cancel}</Button>
          <Button
            kind="plain"
            busy={doing.busy}
            onPress={async () => {
              if (await doing.run(onYes)) setAsking(false);
            }}
          >
            {yes ?? label}
          </Button>
        </div>
      </div>
    </div>
  );
}
