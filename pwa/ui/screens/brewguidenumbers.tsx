// What stands beside the pencil line: the weight to reach and the time in the largest letters, how far from the plan, what next.

import type { BrewView, Plan } from "../gen/types.ts";
import { command } from "../model/core.ts";
import { bandAt, gramsAt, nextOf, pours, withinOf, type Band, type Touch } from "../model/guide.ts";
import { clock, doing, grams } from "../model/guidewords.ts";
import { formatNumber } from "../model/numbers.ts";
import { weightParts } from "../model/units.ts";
import { useAnswer } from "../model/water.ts";
import * as words from "../words.ts";
import { bench } from "../words.ts";

interface Props {
  view: BrewView;
  plan: Plan;
  bands: readonly Band[];
  touches: readonly Touch[];
  seconds: number;
}

export function GuideNumbers({ view, plan, bands, touches, seconds }: Props) {
  const held = view.held > 0;
  const now = bandAt(bands, held ? view.held : seconds);
  const band = bands[now];
  const next = band ? nextOf(bands, now) : undefined;
  const within = withinOf(touches, view.marks);
  return (
    <div class="guide-numbers">
      <Reach band={band} next={next} seconds={seconds} held={held} reached={band !== undefined && isPoured(view, band)} />
      <p class="guide-clock">
        <strong role="timer" aria-label={bench.clock}>
          {clock(seconds)}
        </strong>
        {band && !held && <span class="soft"> {bench.until(clock(band.until))}</span>}
      </p>
      <p class="soft">{within === undefined ? bench.byThePlan : bench.within(formatNumber(within, 0))}</p>
      <div class="guide-next">
        <p>{nextWords(band, next, held)}</p>
        <Drained view={view} plan={plan} />
      </div>
      <p class="unseen" role="status">
        {spoken(band, next, held)}
      </p>
    </div>
  );
}

/** The person says that this pour has reached its weight: what is left of its time is a wait. */
const isPoured = (view: BrewView, band: Band) => view.marks.some(({ mark, step }) => mark === "poured" && step === band.step);

interface ReachProps {
  band: Band | undefined;
  next: Band | undefined;
  seconds: number;
  held: boolean;
  reached: boolean;
}

/** The one large number: grams while water runs, seconds while one waits. */
function Reach({ band, next, seconds, held, reached }: ReachProps) {
  if (held) return <Large label={bench.isHeld} value="–" />;
  if (!band) return <Large label={bench.planOver} value={bench.over} />;
  if (pours(band.kind) && !reached) {
    return (
      <Large label={bench.pourToReach} {...weightParts(band.to, 0)}>
        {band.flow > 0 && bench.byNow(grams(gramsAt(band, seconds)))}
      </Large>
    );
  }
  const left = Math.max(0, Math.ceil(band.until - seconds));
  const large = left >= 100 ? { value: clock(left) } : { value: String(left), unit: "s" };
  return (
    <Large label={reached ? words.step.wait : doing(band)} {...large}>
      {next && pours(next.kind) ? bench.thenTo(grams(next.to)) : ""}
    </Large>
  );
}

function Large({ label, value, unit, children }: { label: string; value: string; unit?: string; children?: string | false }) {
  return (
    <div class="guide-reach">
      <p>{label}</p>
      <p class="guide-large">
        <strong>{value}</strong>
        {unit && <span> {unit}</span>}
      </p>
      {children && <p>{children}</p>}
    </div>
  );
}

function nextWords(band: Band | undefined, next: Band | undefined, held: boolean): string {
  if (held) return bench.heldText;
  if (!band) return bench.stopWhenDry;
  return next ? bench.thenWhat(doing(next), clock(next.from)) : bench.thenDone;
}

/** What a screen reader says as a step begins. */
export function spoken(band: Band | undefined, next: Band | undefined, held: boolean): string {
  const now = band && !held ? `${doing(band)}, ${bench.until(clock(band.until))}. ` : "";
  return now + nextWords(band, next, held);
}

/** When it should be through, as the person's own brews have it, or the plan. */
function Drained({ view, plan }: { view: BrewView; plan: Plan }) {
  const { sample, setup } = view;
  const question = { club: sample?.club ?? "", sample: sample?.sample ?? "", setup, bowls: 0 };
  const time = useAnswer(question, (asked) => command("brew.plan", asked))?.time;
  if (time) return <p class="soft">{bench.drainedBetween(clock(time.seconds.low), clock(time.seconds.high))}</p>;
  return <p class="soft">{bench.drainedBy(clock(plan.ends))}</p>;
}
