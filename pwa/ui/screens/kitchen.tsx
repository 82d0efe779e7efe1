// The first three things to say about a kitchen, in half a minute: what one brews with, what grinds, how high one lives.
// Nothing is needed; each can be said better later.

import { useState } from "preact/hooks";
import type { Geometry, GrinderScale, Home } from "../gen/types.ts";
import { command } from "../model/core.ts";
import { formatTemperature } from "../model/units.ts";
import { useAnswer } from "../model/water.ts";
import { Button } from "../parts/button/button.tsx";
import { NumberField, Pick } from "../parts/field/field.tsx";
import { ShapePick } from "../parts/shape/shape.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { home as says, items } from "../words.ts";
import { usualFilter } from "./brewer.tsx";
import { clicks, freshGrinder } from "./grinder.tsx";
import { altitudes } from "./home.tsx";
import { keepInstrument } from "./instrument.tsx";

interface Said {
  geometry: Geometry | "";
  scale: GrinderScale | "none" | "";
  perTurn: number | undefined;
  weighs: keyof typeof says.weighing | "";
  altitude: number | undefined;
}

export function Kitchen({ home }: { home: Home }) {
  const [said, setSaid] = useState<Said>({ geometry: "", scale: "", perTurn: undefined, weighs: "", altitude: undefined });
  const doing = useDoing();
  const set = (change: Partial<Said>) => setSaid({ ...said, ...change });
  const asked = said.altitude === undefined || Number.isNaN(said.altitude) ? undefined : { ...home, altitude: said.altitude };
  const reads = useAnswer(asked, (question) => command("home.read", question));
  const scales = [...Object.entries(items.scaleName), ["none", says.noGrinder]].map(([value, label]) => ({ value: value!, label: label! }));
  const weighing = Object.entries(says.weighing).map(([value, label]) => ({ value, label }));
  const nothing = said.geometry === "" && said.scale === "" && said.weighs === "" && said.altitude === undefined;
  return (
    <section class="stack" aria-label={says.first}>
      <h2 class="title">{says.first}</h2>
      <p class="soft">{says.firstText}</p>
      <ShapePick label={says.brewWith} value={said.geometry} onValue={(geometry) => set({ geometry })} />
      <Pick label={says.grinds} value={said.scale} onValue={(scale) => set({ scale: scale as Said["scale"], perTurn: scale === "turns" ? said.perTurn : undefined })} options={scales} />
      {said.scale === "turns" && <NumberField label={items.perTurn} range={clicks} value={said.perTurn} onValue={(perTurn) => set({ perTurn })} />}
      <Pick label={says.weighs} value={said.weighs} onValue={(weighs) => set({ weighs: weighs as Said["weighs"] })} options={weighing} />
      <NumberField label={says.live} hint={says.altitudeHint} range={altitudes} value={said.altitude} onValue={(altitude) => set({ altitude })} error={doing.at("altitude")} />
      {reads && <p class="small">{says.boils(formatTemperature(reads.boiling))}</p>}
      <Problem refusal={doing.refusal} />
      <Button kind="primary" busy={doing.busy} disabled={nothing || Number.isNaN(said.altitude) || Number.isNaN(said.perTurn)} onPress={() => void doing.run(() => keep(said, home))}>
        {says.keep}
      </Button>
    </section>
  );
}

/** The home comes first: once a thing stands in the Cupboard, these questions are not asked again. */
async function keep({ geometry, scale, perTurn = 0, weighs, altitude }: Said, home: Home): Promise<void> {
  const named = { ...home, altitude: altitude ?? home.altitude };
  const precision = { "": 0, none: 0, whole: 1, tenth: 0.1 }[weighs];
  if (precision > 0) await keepInstrument({ id: "", name: items.instrumentName.scale, what: "scale", precision, note: "" }, named);
  else if (altitude) await command("home.save", named);
  if (scale !== "" && scale !== "none") {
    const known = scale === "turns" && perTurn === 0 ? "words" : scale; // until its clicks are counted, as they are written
    await command("grinder.save", { ...freshGrinder, name: items.grinderName, scale: known, perTurn });
  }
  if (geometry !== "") {
    await command("brewer.save", { id: "", name: items.brewerName[geometry], geometry, filter: usualFilter(geometry), holds: 0, retained: 0, note: "" });
  }
}
