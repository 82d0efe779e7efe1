// What a water's numbers come to: hardness and alkalinity, where they lie against what the trade published, and what is
// hardly meant.

import type { HardnessUnit, WaterDoubt, WaterRead, WaterReading, WaterTarget, WaterView, WaterWithin } from "../gen/types.ts";
import { formatNumber } from "../model/numbers.ts";
import { factorOf } from "../model/water.ts";
import { WaterMap } from "../parts/watermap/watermap.tsx";
import { water } from "../words.ts";

interface Props {
  view: WaterView;
  reading: WaterReading | undefined;
  unit: HardnessUnit;
}

export function WaterReads({ view, reading, unit }: Props) {
  const known = reading && (reading.reads.hardness > 0 || reading.reads.alkalinity > 0);
  return (
    <section class="stack close">
      <h2>{water.reads}</h2>
      {known ? <Numbers view={view} reads={reading.reads} unit={unit} /> : <p class="soft">{water.nothingYet}</p>}
      <Doubts list={reading?.doubts ?? []} />
    </section>
  );
}

interface NumbersProps {
  view: WaterView;
  reads: WaterRead;
  unit: HardnessUnit;
  aim?: WaterTarget;
}

/** Hardness and alkalinity, large, with the map and the ranges below. */
export function Numbers({ view, reads, unit, aim }: NumbersProps) {
  return (
    <>
      <dl class="facts">
        {(["hardness", "alkalinity"] as const).map((name) => (
          <>
            <dt>{water[name]}</dt>
            <dd>
              <span class="title">{formatNumber(reads[name] / factorOf(view.units, unit, name), unit === "mg/L" ? 0 : 1)}</span> {unit === "mg/L" ? water.asCaCO3 : unit}
              {unit !== "mg/L" && (
                <span class="small soft">
                  {" "}
                  · {formatNumber(reads[name], 0)} {water.asCaCO3}
                </span>
              )}
            </dd>
          </>
        ))}
      </dl>
      {!reads.split && <p class="small soft">{water.noSplit}</p>}
      <WaterMap ranges={view.ranges} here={reads} aim={aim} />
      <Ranges view={view} within={reads.ranges} />
    </>
  );
}

function Ranges({ view, within }: { view: WaterView; within: readonly WaterWithin[] }) {
  return (
    <ul class="list">
      {view.ranges.map((range) => {
        const lies = within.find((each) => each.id === range.id);
        const of = (yes: boolean | undefined) => (yes ? water.isWithin : water.isOutside);
        const number = (value: number) => formatNumber(value, 0);
        return (
          <li key={range.id} class="watermap-range">
            <p>
              <strong>{water.range(range.year)}</strong>
              {lies && `: ${water.within(lies.known ? of(lies.hardness) : water.notKnown, of(lies.alkalinity))}`}
            </p>
            <p class="small soft">
              {water.rangeOf(number(range.hardnessLow), number(range.hardnessHigh), range.calciumOnly, number(range.alkalinityLow), number(range.alkalinityHigh))};{" "}
              {range.read ? water.readBy : water.told}
            </p>
          </li>
        );
      })}
    </ul>
  );
}

/** Questions, which hinder nobody. */
export function Doubts({ list }: { list: readonly WaterDoubt[] }) {
  return (
    <div class="stack close" role="status">
      {list.map((doubt) => (
        <p key={doubt.code + doubt.salt}>
          <strong>{water.doubt[doubt.code](formatNumber(Math.abs(doubt.value), 0), doubt.salt && water.saltNames[doubt.salt])}</strong>
        </p>
      ))}
    </div>
  );
}
