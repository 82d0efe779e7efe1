// What is noticed of one coffee: of a sample before it is brewed, of a brew in its cup.

import { useState } from "preact/hooks";
import type { BrewView, CupStage, NoticedView, SampleView, SittingStep } from "../gen/types.ts";
import { useSecond } from "../model/clock.ts";
import { coolingLine } from "../model/cooling.ts";
import { useView } from "../model/core.ts";
import { formatCode, goingName } from "../model/going.ts";
import type { Params } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { sitting } from "../words.ts";
import { CupClock } from "./sittingcup.tsx";
import { OnWith, SittingLine } from "./sittingline.tsx";
import { type NoticedOf, NoticedList, NoticeWords, useNoticing } from "./sittingwords.tsx";

const STAGES: { [step in SittingStep]?: readonly CupStage[] } = {
  look: ["beans"],
  smell: ["fragrance"],
  wet: ["aroma"],
  cup: ["hot", "warm", "cool"],
};

export function SampleNotice({ params }: { params: Params }) {
  const { club = "", sample = "", step = "" } = params;
  const seen = useView("sample", { club, sample });
  const sat = useView("sitting", { club, sample });
  return (
    <Shown seen={seen} title={sitting.notices} above={paths.sample(club, sample)}>
      {(view) => <OfSample key={step} view={view} step={step in STAGES ? (step as SittingStep) : "look"} brew={sat.value?.brew} />}
    </Shown>
  );
}

function OfSample({ view, step, brew }: { view: SampleView; step: SittingStep; brew: { book: string; brew: string } | undefined }) {
  const { club, sample } = view;
  const dry = step === "look" || step === "smell";
  const of: NoticedOf = { club, sample, book: "", brew: "", ...(!dry && brew) };
  const seen = useView("noticed", { club, sample, book: "", brew: "" }).value;
  return <Sheet name={formatCode(view.code)} of={of} step={step} stages={STAGES[step]!} seen={seen} above={paths.sample(club, sample)} first={dry && view.may.includes("first")} />;
}

/** The cup of a brew: one's own coffee, or a sample's. */
export function BrewCup({ params }: { params: Params }) {
  const { book = "", brew = "" } = params;
  const seen = useView("brew", { book, brew });
  return (
    <Shown seen={seen} title={sitting.notices} above={paths.brew(book, brew)}>
      {(view) => <OfBrew view={view} />}
    </Shown>
  );
}

const EVERY: readonly CupStage[] = ["fragrance", "aroma", "hot", "warm", "cool"];

function OfBrew({ view }: { view: BrewView }) {
  const { book, brew, sample } = view;
  const seen = useView("noticed", sample ? { club: sample.club, sample: sample.sample, book: "", brew: "" } : { book, brew, club: "", sample: "" }).value;
  const of: NoticedOf = { book, brew, club: sample?.club ?? "", sample: sample?.sample ?? "" };
  const name = goingName({ code: sample?.code ?? 0, coffee: view.setup.coffee });
  return <Sheet name={name} of={of} step="cup" stages={sample ? STAGES.cup! : EVERY} seen={seen} above={paths.brew(book, brew)} cup={view} />;
}

interface SheetProps {
  name: string;
  of: NoticedOf;
  step: SittingStep;
  stages: readonly CupStage[];
  seen: NoticedView | undefined;
  above: string;
  first?: boolean;
  cup?: BrewView;
}

const NOTHING: NoticedView = { stages: [] };

function Sheet({ name, of, step, stages, seen = NOTHING, above, first, cup }: SheetProps) {
  const now = useSecond(cup?.cooling !== undefined);
  const [chosen, setChosen] = useState<CupStage>();
  const stage = chosen ?? stageNow(cup, stages, now);
  const noticing = useNoticing(of, stage);
  const title = step === "cup" ? sitting.cup : words.cupStage[stage];
  return (
    <Page
      title={sitting.title(name, title)}
      above={above}
      aside={cup?.cooling && coolingLine(cup.cooling, now)}
      action={
        noticing.any ? (
          <Button kind="primary" busy={noticing.busy} onPress={() => void noticing.keep()}>
            {sitting.keep}
          </Button>
        ) : of.sample ? (
          <>
            {first && step === "smell" && <Button href={paths.look(of.club, of.sample)}>{sitting.hunch}</Button>}
            <OnWith club={of.club} sample={of.sample} from={step} />
          </>
        ) : undefined
      }
    >
      {of.sample && <SittingLine club={of.club} sample={of.sample} at={step} />}
      {stages.length > 1 && <Stages stages={stages} at={stage} onStage={setChosen} />}
      <p>{sitting.lookFor[stage]}</p>
      <NoticeWords noticing={noticing} seen={seen} stage={stage} />
      <NoticedList stages={seen.stages} />
      {cup && <CupClock view={cup} />}
    </Page>
  );
}

function Stages({ stages, at, onStage }: { stages: readonly CupStage[]; at: CupStage; onStage(stage: CupStage): void }) {
  return (
    <div class="notice-words" role="group" aria-label={sitting.stages}>
      {stages.map((stage) => (
        <Button key={stage} pressed={stage === at} onPress={() => onStage(stage)}>
          {words.cupStage[stage]}
        </Button>
      ))}
    </div>
  );
}

/** As warm as the clock says the cup is; without one, the first of the cup. */
function stageNow(cup: BrewView | undefined, stages: readonly CupStage[], now: number): CupStage {
  const passed = cup?.cooling?.calls.findLast((call) => call.at <= now)?.stage;
  return passed ?? (stages.includes("hot") ? "hot" : stages[0]!);
}
