// A table of bowls with wet hands: all in sight, the next thing to do on one big button. A touch on a bowl takes that one out of
// turn. Everything is on the disk when it is shown, so a killed tab goes on.

import { useEffect, useState } from "preact/hooks";
import type { BrewView, Mark } from "../gen/types.ts";
import { type Deed, nextTurn, type Turn, turnOf, undoable } from "../model/bowls.ts";
import { useSecond } from "../model/clock.ts";
import { command, useView } from "../model/core.ts";
import { goingName } from "../model/going.ts";
import { useLitScreen } from "../model/litscreen.ts";
import { HOTTEST_SIP } from "../model/cooling.ts";
import { go, type Params } from "../model/router.ts";
import { formatTemperature, formatWeight } from "../model/units.ts";
import { formatClock } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { HoldButton } from "../parts/hold/hold.tsx";
import { Page } from "../parts/page/page.tsx";
import { Nothing, Shown } from "../parts/shown/shown.tsx";
import { allowSound, shake, sound } from "../parts/sound/sound.ts";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { Sure } from "../parts/sure/sure.tsx";
import { paths } from "../paths.ts";
import { words } from "../words.ts";
import "./bowls.css";

const { bowls: say } = words;

export function Bowls({ params }: { params: Params }) {
  const seen = useView("table", { table: params.table ?? "" });
  return (
    <Shown seen={seen} title={say.table} above={paths.bench}>
      {(view) => (view.bowls.length === 0 ? <Nothing text={say.gone} /> : <Table bowls={view.bowls} />)}
    </Shown>
  );
}

const MARK: { [deed in Deed]: Mark } = { pour: "start", break: "break", skim: "skim", taste: "taste" };

function Table({ bowls }: { bowls: BrewView[] }) {
  const now = useSecond();
  const doing = useDoing();
  const [chosen, setChosen] = useState<string>();
  const over = bowls.every((bowl) => bowl.state === "done");
  useLitScreen(!over);
  const mine = bowls.find((bowl) => bowl.brew === chosen);
  const turn = (mine && turnOf(mine)) ?? nextTurn(bowls, now);

  useDueSound(turn, now);

  const mark = (ago: number) =>
    turn &&
    doing.run(async () => {
      allowSound(); // within a touch: a browser lets a page be heard only then
      const touched = Date.now() - ago;
      const { book, brew } = turn.bowl;
      await command("brew.mark", { book, brew, mark: MARK[turn.deed], grams: 0, step: 0, ago: Date.now() - touched });
      setChosen(undefined);
    });
  return (
    <Page title={say.table} above={paths.bench} action={<Action turn={turn} now={now} busy={doing.busy} over={over} onHeld={(ago) => void mark(ago)} />}>
      <Problem refusal={doing.refusal} />
      <ol class="bowls">
        {bowls.map((bowl) => (
          <li key={bowl.brew}>
            <BowlCell bowl={bowl} now={now} at={turn?.bowl.brew === bowl.brew} onTake={() => setChosen(bowl.brew)} />
          </li>
        ))}
      </ol>
      {!over && <Undo bowls={bowls} now={now} />}
      <Notices bowls={bowls} />
      {!over && <KeepAll bowls={bowls} />}
    </Page>
  );
}

/** One pitch when a bowl falls due, unless the house sleeps. */
function useDueSound(turn: Turn | undefined, now: number): void {
  const quiet = useView("cupboard").value?.person.quiet ?? true;
  const due = turn && turn.deed !== "pour" && turn.at <= now ? `${turn.bowl.brew} ${turn.deed}` : "";
  useEffect(() => {
    if (due === "") return;
    shake("start");
    if (!quiet) sound("start");
  }, [due, quiet]);
}

interface ActionProps {
  turn: Turn | undefined;
  now: number;
  busy: boolean;
  over: boolean;
  onHeld(ago: number): void;
}

function Action({ turn, now, busy, over, onHeld }: ActionProps) {
  if (!turn) return over ? <Button href={paths.bench}>{words.common.done}</Button> : <p class="small">{say.all}</p>;
  const { bowl, deed } = turn;
  const hint = { pour: say.pourHint(formatWeight(bowl.setup.water)), break: say.breakHint, skim: say.skimHint, taste: say.tasteHint }[deed];
  return (
    <>
      <p class="bowls-due" role="status">
        {deed === "pour" ? "" : dueWords(turn.at, now)}
        {deed === "taste" && <span class="small soft"> {say.waitTaste(formatTemperature(HOTTEST_SIP))}</span>}
      </p>
      <HoldButton tall onHeld={onHeld} busy={busy} hint={hint}>
        {say[deed](bowl.bowl)}
      </HoldButton>
    </>
  );
}

function dueWords(at: number, now: number): string {
  const away = at - now;
  if (away > 0) return say.dueIn(formatClock(away + 999));
  return away > -10_000 ? say.due : say.late(formatClock(-away));
}

interface CellProps {
  bowl: BrewView;
  now: number;
  at: boolean;
  onTake(): void;
}

function BowlCell({ bowl, now, at, onTake }: CellProps) {
  const state = stateOf(bowl);
  if (state === "saved") {
    return (
      <a class="bowl saved" href={paths.brew(bowl.book, bowl.brew)}>
        <BowlWords bowl={bowl} now={now} state={state} />
      </a>
    );
  }
  return (
    <button type="button" class={`bowl ${state}${at ? " at" : ""}`} aria-current={at ? "step" : undefined} disabled={!turnOf(bowl)} onClick={onTake}>
      <BowlWords bowl={bowl} now={now} state={state} />
    </button>
  );
}

function BowlWords({ bowl, now, state }: { bowl: BrewView; now: number; state: State }) {
  return (
    <>
      <span class="bowl-number">
        <span class="unseen">{say.bowl(bowl.bowl)}</span>
        <span aria-hidden="true">{bowl.bowl}</span>
      </span>
      <span class="small">{goingName({ code: bowl.sample?.code ?? 0, coffee: bowl.setup.coffee })}</span>
      <span class="bowl-clock">{bowl.began > 0 && bowl.state !== "done" ? formatClock(now - bowl.began) : ""}</span>
      <span class="small">{say[state]}</span>
    </>
  );
}

type State = "empty" | "poured" | "broken" | "skimmed" | "tasted" | "saved";

function stateOf(bowl: BrewView): State {
  if (bowl.state === "done") return "saved";
  const deed = turnOf(bowl)?.deed;
  return deed === "pour" ? "empty" : deed === "break" ? "poured" : deed === "skim" ? "broken" : deed === "taste" ? "skimmed" : "tasted";
}

function Undo({ bowls, now }: { bowls: BrewView[]; now: number }) {
  const doing = useDoing();
  const undo = undoable(bowls, now);
  return (
    <div class="bowls-undo">
      {undo && (
        <Button wet busy={doing.busy} onPress={() => void doing.run(() => command("brew.unmark", { book: undo.bowl.book, brew: undo.bowl.brew }))}>
          {say.undo(undo.mark === "start" ? say.poured : words.mark[undo.mark], undo.bowl.bowl, Math.min(Math.ceil((undo.until - now) / 1000), 10))}
        </Button>
      )}
    </div>
  );
}

/** Every poured bowl is a brew of its own; what was never poured is thrown away. */
function KeepAll({ bowls }: { bowls: BrewView[] }) {
  const keep = async () => {
    for (const { book, brew, began, state, outcome } of bowls) {
      if (state === "done") continue;
      if (began === 0) await command("brew.discard", { book, brew });
      else await command("brew.save", { book, brew, outcome, sure: [] });
    }
    if (bowls.every((bowl) => bowl.began === 0)) go(paths.bench, "replace");
  };
  return <Sure kind="quiet" label={say.keep} question={say.keepSure} yes={say.keepNow} onYes={keep} />;
}

function Notices({ bowls }: { bowls: BrewView[] }) {
  const poured = bowls.filter((bowl) => bowl.began > 0);
  if (poured.length === 0) return null;
  return (
    <ul class="list">
      {poured.map((bowl) => (
        <li key={bowl.brew}>
          <a class="list-row" href={paths.cup(bowl.book, bowl.brew)}>
            {say.notices(bowl.bowl)}
          </a>
        </li>
      ))}
    </ul>
  );
}
