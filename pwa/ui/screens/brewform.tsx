// The start of a brew, filled with last time's setup, another brew's, or one that was proposed. Nothing must be filled in; what
// a kitchen cannot measure stays empty.

import { useState } from "preact/hooks";
import type { BrewParams, BrewSetup, ClubWaterView, CupboardView, SampleView } from "../gen/types.ts";
import { askToKeep } from "../model/browser.ts";
import { command, useView } from "../model/core.ts";
import { takeNew, takeProposed } from "../model/draft.ts";
import { formatCode } from "../model/going.ts";
import { keepNew, known, newIn } from "../model/keepnew.ts";
import { go, type Params } from "../model/router.ts";
import { withUsualWater } from "../model/setup.ts";
import { formatWeight } from "../model/units.ts";
import { useAnswer } from "../model/water.ts";
import { Button } from "../parts/button/button.tsx";
import { declaredWords, needsCare } from "../parts/declared/declared.ts";
import { Check } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Care, Problem, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { bench } from "../words.ts";
import { Allergic, Cautions, Changed, Planned } from "./brewformplan.tsx";
import { SetupFields } from "./brewsetup.tsx";
import { withClubWater } from "./brewwater.tsx";
import { BrewCaution } from "./caution.tsx";
import { SittingLine } from "./sittingline.tsx";
import "./brew.css";

export function BrewForm({ params }: { params: Params }) {
  const { club, sample } = params;
  const [proposed] = useState(takeNew);
  const seen = useView("bench");
  return (
    <Shown seen={seen} title={bench.newTitle} above={paths.bench}>
      {(view) => {
        if (proposed && !sample) return <WithCupboard setup={proposed} />;
        // before the first brew there is no last method
        const last: BrewSetup = { ...view.last, method: view.last.method || "drip", ...(club && noCoffee) };
        return club && sample ? <OfSample club={club} sample={sample} setup={last} /> : <WithCupboard setup={last} />;
      }}
    </Shown>
  );
}

const noCoffee = { coffee: "", coffeeID: "" };

/** A brew like another one, or with the change that was proposed for it. */
export function BrewAgain({ params }: { params: Params }) {
  const parent: BrewParams = { book: params.book ?? "", brew: params.brew ?? "" };
  const [proposed] = useState(() => takeProposed(parent));
  const seen = useView("brew", parent);
  return (
    <Shown seen={seen} title={bench.newTitle} above={paths.brew(parent.book, parent.brew)}>
      {(view) => {
        const setup = proposed ?? view.setup;
        return view.sample ? (
          <OfSample club={view.sample.club} sample={view.sample.sample} setup={setup} parent={parent} />
        ) : (
          <WithCupboard setup={setup} parent={parent} />
        );
      }}
    </Shown>
  );
}

interface Begin {
  setup: BrewSetup;
  sample?: SampleView;
  parent?: BrewParams;
  club?: ClubWaterView | undefined;
}

function OfSample({ club, sample, ...begin }: { club: string; sample: string } & Omit<Begin, "sample" | "club">) {
  const seen = useView("sample", { club, sample });
  const common = useView("clubwater", { club });
  if (common.value === undefined && common.error === undefined) return <Page title={bench.newTitle}>{words.common.loading}</Page>;
  const setup = begin.parent ? begin.setup : withClubWater(begin.setup, common.value);
  return (
    <Shown seen={seen} title={bench.newTitle} above={paths.sample(club, sample)}>
      {(view) => <WithCupboard {...begin} setup={setup} sample={view} club={common.value} />}
    </Shown>
  );
}

function WithCupboard(begin: Begin) {
  const { value, error } = useView("cupboard");
  // what was typed before the Cupboard came would lie beside what is picked from it
  if (value === undefined && error === undefined) return <Page title={bench.newTitle}>{words.common.loading}</Page>;
  return <Form {...begin} cupboard={value} />;
}

function Form({ setup: first, sample, parent, cupboard, club }: Begin & { cupboard: CupboardView | undefined }) {
  const [setup, setSetup] = useState(() => (parent ? first : withUsualWater(first, cupboard))); // a change of a brew keeps what that one had
  const [sure, setSure] = useState<string[]>([]);
  const [keep, setKeep] = useState(true);
  const doing = useDoing();
  const set = (change: Partial<BrewSetup>) => {
    setSetup((now) => ({ ...now, ...change }));
    setSure([]);
    doing.clear();
  };
  const own = !sample;
  const of = { club: sample?.club ?? "", sample: sample?.sample ?? "" };
  const begin = async (confirmed: string[] = sure) => {
    setSure(confirmed);
    await doing.run(async () => {
      const named = known(setup, cupboard);
      const kept = keep ? await keepNew(named, cupboard, own) : named;
      setSetup(kept); // what is kept already is not kept twice when the start is refused
      const { book, brew } = await command("brew.start", { ...of, setup: kept, run: false, sure: confirmed, ...(parent && { parent }) });
      go(paths.brew(book, brew), "replace");
      void askToKeep();
    });
  };
  const wrong = Object.values(setup).some(Number.isNaN);
  const planned = useAnswer(wrong ? undefined : { ...of, setup, bowls: 0, ...(parent && { parent }) }, (question) => command("brew.plan", question));
  const added = newIn(setup, cupboard, own);
  return (
    <Page
      title={sample ? bench.newOf(formatCode(sample.code)) : bench.newTitle}
      above={parent ? paths.brew(parent.book, parent.brew) : sample ? paths.sample(sample.club, sample.sample) : paths.bench}
      aside={sample ? bench.left(formatWeight(sample.left)) : bench.noMeasure}
      action={
        <>
          <Problem refusal={doing.refusal} onSure={(field) => void begin([...sure, field])} />
          <Button kind="primary" busy={doing.busy} disabled={wrong} onPress={() => void begin()}>
            {bench.toClock}
          </Button>
        </>
      }
    >
      {sample && <SittingLine club={sample.club} sample={sample.sample} at="brew" />}
      <BrewCaution />
      {sample && needsCare(sample.declared, sample.declaredReadable) && (
        <Care title={bench.allergensFirst}>
          <p>{declaredWords(sample.declared, sample.declaredReadable)}</p>
          <p class="small">{bench.grinderShared}</p>
        </Care>
      )}
      {planned && <Allergic allergic={planned.allergic} />}
      {planned?.changes && <Changed changes={planned.changes} />}
      <SetupFields setup={setup} set={set} own={own} at={doing.at} cupboard={cupboard} club={club} />
      {added.length > 0 && <Check label={bench.keepNew} checked={keep} onChecked={setKeep} />}
      {planned && <Planned planned={planned} blind={sample !== undefined && sample.state !== "unsealed"} />}
      {planned && <Cautions planned={planned} />}
    </Page>
  );
}
