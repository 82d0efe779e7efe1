// Something went wrong: hold the plan, stop the clock, or give the brew up and keep it with a word why.

import { useEffect, useRef, useState } from "preact/hooks";
import type { BrewView } from "../gen/types.ts";
import { command } from "../model/core.ts";
import { go } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { TextField } from "../parts/field/field.tsx";
import { HoldButton } from "../parts/hold/hold.tsx";
import type { Doing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import { bench } from "../words.ts";
import { Discard } from "./brewclock.tsx";

interface Props {
  view: BrewView;
  doing: Doing;
  /** Nobody ended it, hours ago. */
  left: boolean;
  onDone(): void;
}

export function Trouble({ view, doing, left, onDone }: Props) {
  const [why, setWhy] = useState<string>();
  const section = useRef<HTMLElement>(null);
  useEffect(() => {
    if (!left) section.current?.focus({ preventScroll: true }); // it came by a press, elsewhere on the screen
  }, []);
  const id = { book: view.book, brew: view.brew };
  const run = async (work: () => Promise<unknown>) => {
    if (await doing.run(work)) onDone();
  };
  const abandon = () =>
    run(async () => {
      await command("brew.abandon", { ...id, why: why ?? "" });
      go(paths.brew(view.book, view.brew), "replace");
    });
  const title = left ? bench.leftOpen : bench.trouble;
  return (
    <section class="trouble stack close" ref={section} tabIndex={-1} aria-label={title}>
      <h2>{title}</h2>
      <div class="pair">
        {view.held === 0 && !left && (
          <Button wet busy={doing.busy} onPress={() => void run(() => command("brew.hold", { ...id, hold: true, ago: 0 }))}>
            {bench.holdPlan}
          </Button>
        )}
        {left ? (
          <Button wet busy={doing.busy} onPress={() => void run(() => command("brew.save", { ...id, outcome: view.outcome, sure: [] }))}>
            {bench.leftKeep}
          </Button>
        ) : (
          <HoldButton plain busy={doing.busy} onHeld={(ago) => void run(() => command("brew.mark", { ...id, mark: "end", step: 0, grams: 0, ago }))}>
            {bench.stopNow}
          </HoldButton>
        )}
        {why === undefined && (
          <Button wet onPress={() => setWhy("")}>
            {bench.abandon}
          </Button>
        )}
        <Button wet onPress={onDone}>
          {bench.notSo}
        </Button>
      </div>
      {why !== undefined && (
        <>
          <TextField label={bench.why} hint={bench.whyHint} value={why} maxLength={500} onValue={setWhy} wet />
          <Button wet busy={doing.busy} onPress={() => void abandon()}>
            {bench.abandonNow}
          </Button>
        </>
      )}
      <Discard view={view} />
    </section>
  );
}
