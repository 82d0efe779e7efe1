// The pour guide. It runs by the clock; a touch only records what really happened, and is on the disk before it is shown.

import { useState } from "preact/hooks";
import type { BrewView, Plan } from "../gen/types.ts";
import { useBrewClock } from "../model/brewclock.ts";
import { command, useView } from "../model/core.ts";
import { bandsOf, touchAt, touchesOf, type Touch } from "../model/guide.ts";
import { takeBack, takenBack } from "../model/takenback.ts";
import { formatWeight } from "../model/units.ts";
import { Button } from "../parts/button/button.tsx";
import { HoldButton } from "../parts/hold/hold.tsx";
import { Page } from "../parts/page/page.tsx";
import { PourStrip } from "../parts/pourstrip/pourstrip.tsx";
import { allowSound } from "../parts/sound/sound.ts";
import { Problem, useDoing, type Doing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { bench } from "../words.ts";
import { brewTitle, setupLine } from "./brew.tsx";
import { Absence, useAbsence } from "./brewabsence.tsx";
import { useCues } from "./brewcues.ts";
import { Disputed } from "./brewdisputed.tsx";
import { GuideNumbers } from "./brewguidenumbers.tsx";
import { Ready } from "./brewguideready.tsx";
import { Trouble } from "./brewguidetrouble.tsx";
import "./brewguide.css";

/** So long a touch can be taken back. */
const UNDO_SECONDS = 10;

/** Until then the key that started the clock is the one for its next touch. */
const FRESH_SECONDS = 10;

export function BrewGuide({ view, plan }: { view: BrewView; plan: Plan }) {
  return view.state === "planned" ? <Ready view={view} plan={plan} /> : <Running view={view} plan={plan} />;
}

function Running({ view: told, plan }: { view: BrewView; plan: Plan }) {
  const time = useBrewClock(told.began, true);
  const seconds = time.elapsed / 1000;
  const view = time.disputed ? { ...told, marks: told.marks.map((mark) => ({ ...mark, at: Math.min(mark.at, seconds) })) } : told;
  const person = useView("person").value;
  const bands = bandsOf(plan);
  const held = view.held > 0;
  const shown = held ? view.held : seconds;
  const doing = useDoing();
  const left = useView("bench").value?.going.some((each) => each.brew === told.brew && each.what === "left") ?? false;
  const [asked, setAsked] = useState<boolean>();
  const trouble = asked ?? left; // a brew that nobody ended asks by itself
  const absence = useAbsence(view, bands, seconds);
  const touches = touchesOf(plan);
  const touch = touchAt(touches, view.marks, seconds);
  useCues(bands, seconds, !held && person?.quiet === false);
  return (
    <Page
      title={brewTitle(view)}
      above={paths.bench}
      aside={setupLine(view)}
      action={
        <div class={person?.left ? "guide-hands mirrored" : "guide-hands"}>
          <Problem refusal={doing.refusal} />
          <BigButton view={view} touch={touch} doing={doing} held={held} fresh={seconds < FRESH_SECONDS} />
          <Lesser view={view} seconds={seconds} doing={doing} onTrouble={() => setAsked(!trouble)} open={trouble} />
        </div>
      }
    >
      {time.disputed && <Disputed view={view} clock={time} />}
      {absence && !time.disputed && !left && <Absence view={view} bands={bands} absence={absence} />}
      {trouble && <Trouble view={view} doing={doing} left={left} onDone={() => setAsked(false)} />}
      <div class={person?.left ? "guide mirrored" : "guide"}>
        <PourStrip bands={bands} seconds={shown} still={held} />
        <GuideNumbers view={view} plan={plan} bands={bands} touches={touches} seconds={seconds} />
      </div>
    </Page>
  );
}

const idOf = ({ book, brew }: BrewView) => ({ book, brew });

interface BigProps {
  view: BrewView;
  touch: Touch;
  doing: Doing;
  held: boolean;
  /** The clock was started on this screen, a moment ago. */
  fresh: boolean;
}

function BigButton({ view, touch, doing, held, fresh }: BigProps) {
  const id = idOf(view);
  if (held) {
    return (
      <HoldButton tall busy={doing.busy} hint={bench.holdHint} onHeld={(ago) => void doing.run(() => command("brew.hold", { ...id, hold: false, ago }))}>
        {bench.goOn}
      </HoldButton>
    );
  }
  const mark = (ago: number) => {
    allowSound(); // a page that was loaded anew may be heard after a touch only
    void doing.run(() => command("brew.mark", { ...id, mark: touch.mark, step: touch.step, grams: touch.grams, ago }));
  };
  return (
    <HoldButton tall focus={fresh} busy={doing.busy} hint={bench.holdHint} onHeld={mark}>
      {touchWords(touch, view)}
    </HoldButton>
  );
}

export function touchWords({ mark, grams }: Touch, view: BrewView): string {
  switch (mark) {
    case "pour":
      return bench.holdPour;
    case "poured":
      return bench.holdAt(formatWeight(grams, 0));
    case "end":
      return view.setup.method === "drip" || view.setup.method === "steep" ? bench.holdEnd : bench.holdEndPress;
    default:
      return bench.holdDone(words.mark[mark]);
  }
}

interface LesserProps {
  view: BrewView;
  seconds: number;
  doing: Doing;
  onTrouble(): void;
  open: boolean;
}

/** What is touched seldom: the step back, and the way out. */
function Lesser({ view, seconds, doing, onTrouble, open }: LesserProps) {
  const last = view.marks.at(-1);
  const left = last ? Math.ceil(UNDO_SECONDS - (seconds - last.at)) : 0;
  const taken = takenBack(view);
  return (
    <div class="guide-lesser">
      <p class="small taken" role="status">
        {taken}
      </p>
      {last && left > 0 && !taken && (
        <Button wet kind="quiet" busy={doing.busy} onPress={() => void doing.run(() => takeBack(view, bench.takenBack(words.mark[last.mark])))}>
          {bench.undoIn(words.mark[last.mark], left)}
        </Button>
      )}
      <Button wet kind="quiet" pressed={open} onPress={onTrouble}>
        {bench.trouble}
      </Button>
    </div>
  );
}
