// One brew: before its clock, while it runs, and what came of it.

import type { BrewView } from "../gen/types.ts";
import { useView } from "../model/core.ts";
import { formatCode } from "../model/going.ts";
import { guides } from "../model/guide.ts";
import { useLitScreen } from "../model/litscreen.ts";
import type { Params } from "../model/router.ts";
import { doseLine } from "../model/quantities.ts";
import { formatTemperature } from "../model/units.ts";
import { Shown } from "../parts/shown/shown.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { BrewClock } from "./brewclock.tsx";
import { BrewGuide } from "./brewguide.tsx";
import { BrewOutcomeForm } from "./brewoutcome.tsx";
import "./brew.css";
import { Bowls } from "./bowls.tsx";
import { BrewSaved } from "./brewsaved.tsx";

export function Brew({ params }: { params: Params }) {
  const seen = useView("brew", { book: params.book ?? "", brew: params.brew ?? "" });
  return (
    <Shown seen={seen} title={words.bench.newTitle} above={paths.bench}>
      {(view) => <Stage view={view} />}
    </Shown>
  );
}

function Stage({ view }: { view: BrewView }) {
  useLitScreen(view.state === "going");
  if (view.state === "done") return <BrewSaved view={view} />;
  if (view.table) return <Bowls params={{ table: view.table }} />;
  if (view.marks.some((mark) => mark.mark === "end")) return <BrewOutcomeForm view={view} />;
  return guides(view.plan) ? <BrewGuide view={view} plan={view.plan} /> : <BrewClock view={view} />;
}

export function brewTitle(view: BrewView): string {
  return view.sample ? formatCode(view.sample.code) : view.setup.coffee || words.tonight.ownCoffee;
}

/** 15 g to 240 g, 94 °C, at 22. */
export function setupLine({ setup }: BrewView): string {
  const facts: string[] = [];
  const dose = doseLine(setup);
  if (dose) facts.push(dose);
  if (setup.kettle > 0) facts.push(formatTemperature(setup.kettle, 1));
  if (setup.grind) facts.push(words.bench.atGrind(setup.grind));
  return facts.join(", ");
}
