// The phone's clock has jumped while this screen was in sight: somebody set it, or the phone slept. Only its owner knows.

import type { BrewView } from "../gen/types.ts";
import type { BrewSeconds } from "../model/brewclock.ts";
import { command } from "../model/core.ts";
import { formatClock } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { bench } from "../words.ts";

export function Disputed({ view, clock }: { view: BrewView; clock: BrewSeconds }) {
  const doing = useDoing();
  const say = () => void doing.run(() => command("brew.time", { book: view.book, brew: view.brew, elapsed: Math.round(clock.elapsed) }));
  return (
    <section class="absence stack close" aria-label={bench.clockSet}>
      <h2>{bench.clockSet}</h2>
      <p>{bench.clockSetText(formatClock(clock.elapsed))}</p>
      <Problem refusal={doing.refusal} />
      <div class="pair">
        <Button wet busy={doing.busy} onPress={say}>
          {bench.clockCounted}
        </Button>
        <Button wet onPress={clock.give}>
          {bench.clockGive}
        </Button>
      </div>
    </section>
  );
}
