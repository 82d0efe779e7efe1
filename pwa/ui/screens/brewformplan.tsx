// What can be said of a brew before it is begun: the plan in one line, its time, the grind, what to grind away, how many tries
// are left, what changed against the brew before, and what to take care of. All of it follows what is typed.

import type { BrewPlanned, Caffeine, Changes, Change, Plan, Prediction, Ration, GrindHint, Purge } from "../gen/types.ts";
import { useView } from "../model/core.ts";
import { pours } from "../model/guide.ts";
import { clock, doing } from "../model/guidewords.ts";
import { formatFixed, formatNumber } from "../model/numbers.ts";
import { formatTemperature, formatWeight } from "../model/units.ts";
import { Care } from "../parts/status/status.tsx";
import * as words from "../words.ts";
import { bench } from "../words.ts";
import { reasonSentence } from "../words/reasons.ts";

/** Bloom to 38 g, pour to 144 g, pour to 240 g, through at about 3:00. */
export function planLine(plan: Plan): string {
  const steps = plan.steps.filter(({ at }) => at >= 0);
  const list = steps.filter(({ kind }) => pours(kind) || kind === "bypass" || kind === "press" || kind === "flip" || kind === "open-valve" || kind === "break");
  const line = [...list.map(doing), bench.through(clock(plan.ends))].join(", ");
  return line[0]!.toUpperCase() + line.slice(1);
}

/** Blind: what it is will be known later, and a portion kept until then tastes again. */
export function Planned({ planned, blind = false }: { planned: BrewPlanned; blind?: boolean }) {
  const { plan, time, grind, purge, ration } = planned;
  const notes = [time && <Time key="time" time={time} />, grind && <Grind key="grind" grind={grind} />, purge && tells(purge) && <Ground key="purge" purge={purge} />];
  return (
    <section class="stack close planned" aria-label={bench.plan} aria-live="off">
      {plan && (
        <p>
          <strong>{planLine(plan)}</strong>
        </p>
      )}
      {plan?.capped && <p>{bench.capped}</p>}
      {notes}
      {ration && <Attempts ration={ration} blind={blind} />}
    </section>
  );
}

const because = (what: "scaling" | "grinder", reasons: Prediction["reasons"]) =>
  reasons
    .map((reason) => reasonSentence(what, reason))
    .filter(Boolean)
    .join(" ");

export function Time({ time: { seconds, exponent, coarser, reasons } }: { time: Prediction }) {
  const { value, low, high } = seconds;
  const twice = (power: number) => formatFixed(2 ** power, 1);
  const size = (factor: number) => `${formatNumber(100 * factor, 0)} %`;
  const steeped = reasons.some(({ code }) => code === "steeped");
  return (
    <p>
      {bench.takes(clock(value), clock(low), clock(high))}{" "}
      {(coarser.low > 1 || coarser.high < 1) && coarser.value > 0 && !steeped && bench.coarser(size(coarser.value), size(coarser.low), size(coarser.high))}{" "}
      <span class="small soft">
        {!steeped && bench.twice(twice(exponent.value), twice(exponent.low), twice(exponent.high))} {because("scaling", reasons)}
      </span>
    </p>
  );
}

export function Grind({ grind }: { grind: GrindHint }) {
  const why = because("grinder", grind.reasons);
  const text = grind.known ? bench.grindAt(grind.setting, grind.low, grind.high) : bench.grindUnknown;
  return (
    <p>
      {text} <span class="small soft">{why}</span>
    </p>
  );
}

/** What is worth a word though nothing is to be ground away. */
const always = new Set(["after-allergen", "grind-last", "allergen-grinder"]);
const tells = (purge: Purge) => purge.grams > 0 || purge.reasons.some(({ code }) => always.has(code));

function Ground({ purge }: { purge: Purge }) {
  return (
    <p>
      {purge.grams > 0 && bench.purge(formatWeight(purge.grams))} <span class="small soft">{because("grinder", purge.reasons)}</span>
    </p>
  );
}

function Attempts({ ration, blind }: { ration: Ration; blind: boolean }) {
  const kept = ration.kept > 0 ? bench.kept(formatWeight(ration.kept)) : blind && ration.attempts > 0 && bench.keepOne(ration.attempts);
  return (
    <p>
      {bench.attempts(ration.attempts, formatWeight(ration.left), formatWeight(ration.each))} {kept}{" "}
      {ration.most > ration.attempts && bench.attemptsMore(ration.most, formatWeight(ration.smallest))}{" "}
      {!ration.reliable && <strong>{bench.smallDose(formatWeight(ration.smallest))}</strong>}
    </p>
  );
}

export function Changed({ changes }: { changes: Changes }) {
  const shown = changes.list.filter(({ kind }) => kind !== "unknown");
  return (
    <div class={changes.verdict === "several" ? "changed several" : "changed"}>
      <p>
        <strong>{changeTitle(changes, shown)}</strong>
      </p>
      {shown.length > 0 && (
        <ul>
          {shown.map((change, i) => (
            <li key={i}>{changeWords(change)}</li>
          ))}
        </ul>
      )}
    </div>
  );
}

const changeTitle = ({ verdict }: Changes, shown: readonly Change[]) => (verdict === "unsure" && shown.length === 0 ? words.changeVerdict.unsure : words.changeVerdict[verdict]);

const changeUnits: { [field in Change["field"]]?: (value: number) => string } = {
  dose: formatWeight,
  water: formatWeight,
  temperature: (value) => formatTemperature(value, 1),
  "step-temperature": (value) => formatTemperature(value, 1),
  "step-seconds": (value) => bench.seconds(formatNumber(value, 0)),
  "since-grinding": (value) => `${formatNumber(value, 0)} min`,
};

/** Grind: 22 to 24; kettle: 94 °C to 91 °C. */
export function changeWords(change: Change): string {
  const side = (known: boolean, value: number, name: string) => {
    if (name) return name;
    if (!known) return bench.notKnown;
    return (changeUnits[change.field] ?? ((n: number) => formatNumber(n, 1)))(value);
  };
  const what = words.changeField[change.field];
  const step = change.stepKind ? `${words.step[change.stepKind]}, ` : "";
  const ends = bench.fromTo(side(change.fromKnown, change.from, change.fromName), side(change.toKnown, change.to, change.toName));
  const kind = change.kind === "changed" ? "" : ` (${words.changeKind[change.kind]})`;
  return `${step}${what}: ${ends}${kind}`;
}

/** What this person avoids, and this coffee has. */
export function Allergic({ allergic }: Pick<BrewPlanned, "allergic">) {
  if (allergic.length === 0) return null;
  return (
    <Care title={bench.allergic}>
      <p>{allergic.map((allergen) => words.allergen[allergen]).join(", ")}</p>
      <p class="small">{bench.allergicText}</p>
    </Care>
  );
}

/** What to know before it is begun; each once. They change with the plan, so they stand with it: nothing moves under a finger. */
export function Cautions({ planned }: { planned: BrewPlanned }) {
  const { cautions, caffeine } = planned;
  const more = cautions.filter((caution) => caution !== "hot-water"); // that one is read once and stands above
  return (
    <>
      {more.length > 0 && <p class="small">{more.map((caution) => words.caution[caution]).join(" ")}</p>}
      {caffeine && <Caffeinated caffeine={caffeine} />}
    </>
  );
}

/** The estimate, and a word where it is much; what an estimate is worth is said once, before the first brew. */
export function Caffeinated({ caffeine }: { caffeine: Caffeine }) {
  const { low, high, todayLow, todayHigh, atOnce, inADay, pregnant, spits } = caffeine;
  const person = useView("person").value;
  const much = atOnce === "over" || inADay === "over" || (person?.pregnant === true && pregnant !== "under");
  const range = (from: number, to: number) => `${formatNumber(from, 0)}–${formatNumber(to, 0)} mg`;
  return (
    <p class="small">
      {bench.caffeine(range(low, high), range(todayLow, todayHigh))}
      {spits ? ` ${bench.caffeineSpat}` : much && <strong> {bench.caffeineMuch}</strong>}
    </p>
  );
}
