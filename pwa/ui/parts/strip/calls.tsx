// When a cup is good to taste its line in the strip says so; here it is said to a screen reader, and, where sounds are wanted,
// by one pitch.

import { useEffect } from "preact/hooks";
import type { Going } from "../../gen/types.ts";
import { useSecond } from "../../model/clock.ts";
import { callNow } from "../../model/cooling.ts";
import { useView } from "../../model/core.ts";
import { goingName } from "../../model/going.ts";
import { formatTemperature } from "../../model/units.ts";
import * as words from "../../words.ts";
import { sound } from "../sound/sound.ts";

export function CupCalls({ going }: { going: readonly Going[] }) {
  const cups = going.filter((each) => each.cooling);
  return cups.length > 0 ? <Calling cups={cups} /> : null;
}

function Calling({ cups }: { cups: readonly Going[] }) {
  const now = useSecond();
  const quiet = useView("person").value?.quiet ?? true;
  const calls = cups.flatMap((cup) => {
    const call = callNow(cup.cooling!, now);
    return call ? [{ key: `${cup.brew} ${call.at}`, text: words.sitting.call(goingName(cup), formatTemperature(call.celsius), words.cupStage[call.stage]) }] : [];
  });
  const newest = calls.at(-1)?.key;
  useEffect(() => {
    if (newest && !quiet) sound("start");
  }, [newest, quiet]);
  return (
    <p class="unseen" role="status">
      {calls.map(({ text }) => text).join("; ")}
    </p>
  );
}
