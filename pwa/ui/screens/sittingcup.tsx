// The cooling clock of one cup: how warm it is, when it is good to taste, and the thermometer's readings that calibrate it.

import { useState } from "preact/hooks";
import type { BrewView, Cooling } from "../gen/types.ts";
import { useSecond } from "../model/clock.ts";
import { celsiusAt, HOTTEST_SIP, span } from "../model/cooling.ts";
import { command } from "../model/core.ts";
import type { Range } from "../model/numbers.ts";
import { formatTemperature } from "../model/units.ts";
import { formatHour } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { TemperatureField } from "../parts/measure/measure.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import * as words from "../words.ts";
import { sitting } from "../words.ts";

const READING: Range = { min: 0, max: 100 };

export function CupClock({ view }: { view: BrewView }) {
  return (
    <section class="stack close">
      <h2>{sitting.clock}</h2>
      {view.cooling ? <Calls cooling={view.cooling} /> : <p class="soft">{view.readings.length > 0 ? sitting.readOnce : sitting.notRead}</p>}
      <ReadingForm view={view} />
      {view.readings.length > 0 && (
        <p class="small soft">
          {sitting.readings}: {view.readings.map((each) => `${formatTemperature(each.celsius)}, ${formatHour(each.at)}`).join("; ")}
        </p>
      )}
      <p class="small soft">{sitting.wait(formatTemperature(HOTTEST_SIP))}</p>
    </section>
  );
}

function Calls({ cooling }: { cooling: Cooling }) {
  const now = useSecond();
  return (
    <>
      <p class="cup-now">{sitting.about(formatTemperature(celsiusAt(cooling, now)))}</p>
      <table>
        <caption class="unseen">{sitting.clock}</caption>
        <thead>
          <tr>
            <th scope="col">{sitting.callStage}</th>
            <th scope="col">{sitting.callDegrees}</th>
            <th scope="col">{sitting.callAt}</th>
          </tr>
        </thead>
        <tbody>
          {cooling.calls.map((call) => (
            <tr key={call.at}>
              <td>{words.cupStage[call.stage]}</td>
              <td>{formatTemperature(call.celsius)}</td>
              <td>{call.at > now ? span(call.at - now) : formatHour(call.at)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

function ReadingForm({ view }: { view: BrewView }) {
  const [celsius, setCelsius] = useState<number>();
  const [kept, setKept] = useState(0);
  const doing = useDoing();
  const keep = async () => {
    if (celsius === undefined) return;
    if (await doing.run(() => command("brew.reading", { book: view.book, brew: view.brew, celsius, ago: 0 }))) {
      setCelsius(undefined);
      setKept(kept + 1);
    }
  };
  return (
    <>
      <TemperatureField key={kept} label={sitting.reading} hint={sitting.readingHint} range={READING} value={celsius} onValue={setCelsius} error={doing.at("celsius")} wet />
      <Problem refusal={doing.refusal} />
      <Button wet busy={doing.busy} disabled={celsius === undefined || Number.isNaN(celsius)} onPress={() => void keep()}>
        {sitting.readingKeep}
      </Button>
    </>
  );
}
