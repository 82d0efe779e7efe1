// A table of bowls with wet hands: all in sight, the next thing to do on one big button. A touch on a bowl takes that one out of
// turn. Everything is on the disk when it is shown, so a killed tab goes on.

import { useEffect, useState } from "preact/hooks";
import type { BrewView, Going, Mark } from "../gen/types.ts";
import { type Deed, nextTurn, type Turn, turnOf, undoable } from "../model/bowls.ts";
import { useMinute, useSecond } from "../model/clock.ts";
import { command, useView } from "../model/core.ts";
import { goingName } from "../model/going.ts";
import { useLitScreen } from "../model/litscreen.ts";
import { HOTTEST_SIP } from "../model/cooling.ts";
import { go, type Params } from "../model/router.ts";
import { formatTemperature, formatWeight } from "../model/units.ts";
import { takeBack, takenBack } from "../model/takenback.ts";
import { formatClock, formatHour, formatMoment } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { HoldButton } from "../parts/hold/hold.tsx";
import { Page } from "../parts/page/page.tsx";
import { Nothing, Shown } from "../parts/shown/shown.tsx";
import { allowSound, shake, sound } from "../parts/sound/sound.ts";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { Sure } from "../parts/sure/sure.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { bowls as say } from "../words.ts";
import "./bowls.css";

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
  const table = bowls[0]!.table;
  const left = useView("bench").value?.going.filter((each) => each.table === table && each.what === "left") ?? [];
  useLitScreen(!over);
  const mine = bowls.find((bowl) => bowl.brew === chosen);
  const turn = left.length > 0 ? undefined : ((mine && turnOf(mine)) ?? nextTurn(bowls, now));

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
    <Page
      title={say.table}
      above={paths.bench}
      action={left.length > 0 ? undefined : <Action turn={turn} now={now} busy={doing.busy} over={over} onHeld={(ago) => void mark(ago)} />}
    >
      <Problem refusal={doing.refusal} />
      {left.length > 0 && <LeftOpen bowls={bowls} left={left} />}
      <ol class="bowls">
        {bowls.map((bowl) => (
          <li key={bowl.brew}>
            <BowlCell bowl={bowl} now={now} at={turn?.bowl.brew === bowl.brew} onTake={() => setChosen(bowl.brew)} />
          </li>
        ))}
      </ol>
      {!over && left.length === 0 && <Undo bowls={bowls} now={now} />}
      <Notices bowls={bowls} />
      {!over && left.length === 0 && <KeepAll bowls={bowls} />}
    </Page>
  );
}

/** One pitch when a bowl falls due, unless the house sleeps. */
function useDueSound(turn: Turn | undefined, now: number): void {
  const quiet = useView("person").value?.quiet ?? true;
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
  if (!turn) return over ? <Button kind="primary" href={paths.bench}>{words.common.done}</Button> : <p class="small">{say.all}</p>;
  const { bowl, deed } = turn;
  const hint = { pour: say.pourHint(formatWeight(bowl.setup.water)), break: say.breakHint, skim: say.skimHint, taste: say.tasteHint }[deed];
  return (
    <>
      <p class="bowls-due">
        {deed === "pour" ? "" : dueWords(turn.at, now)}
        {deed === "taste" && <span class="small soft"> {say.waitTaste(formatTemperature(HOTTEST_SIP))}</span>}
      </p>
      <p class="unseen" role="status">
        {spoken(turn, now)}
      </p>
      <HoldButton tall onHeld={onHeld} busy={busy} hint={hint}>
        {say[deed](bowl.bowl)}
      </HoldButton>
    </>
  );
}

/** What a screen reader says: whose turn it is, and once more when it is due; not each second of it. */
export function spoken({ bowl, deed, at }: Turn, now: number): string {
  const due = deed === "pour" ? "" : at > now ? say.dueAt(formatHour(at)) : say.due;
  return [say[deed](bowl.bowl), due].filter(Boolean).join(", ");
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
  const what = undo && (undo.mark === "start" ? say.poured : words.mark[undo.mark]);
  const taken = takenBack(...bowls);
  return (
    <div class="bowls-undo">
      <p class="taken" role="status">
        {taken}
      </p>
      {undo && what && !taken && (
        <Button wet busy={doing.busy} onPress={() => void doing.run(() => takeBack(undo.bowl, say.undone(what, undo.bowl.bowl)))}>
          {say.undo(what, undo.bowl.bowl, Math.min(Math.ceil((undo.until - now) / 1000), 10))}
        </Button>
      )}
    </div>
  );
}

/** Every poured bowl is a brew of its own; what was never poured is thrown away. */
async function keepAll(bowls: readonly BrewView[]): Promise<void> {
  for (const { book, brew, began, state, outcome } of bowls) {
    if (state === "done") continue;
    if (began === 0) await command("brew.discard", { book, brew });
    else await command("brew.save", { book, brew, outcome, sure: [] });
  }
  if (bowls.every((bowl) => bowl.began === 0)) go(paths.bench, "replace");
}

async function discardOpen(bowls: readonly BrewView[]): Promise<void> {
  for (const { book, brew, state } of bowls) if (state !== "done") await command("brew.discard", { book, brew });
  if (bowls.every((bowl) => bowl.state !== "done")) go(paths.bench, "replace");
}

function KeepAll({ bowls }: { bowls: BrewView[] }) {
  if (bowls.every((bowl) => bowl.began === 0)) return <Sure kind="quiet" label={say.discard} question={say.discardSure} onYes={() => discardOpen(bowls)} />;
  return <Sure kind="quiet" label={say.keep} question={say.keepSure} yes={say.keepNow} onYes={() => keepAll(bowls)} />;
}

/** Hours later nobody goes on tasting: the table ends, as its owner says. */
function LeftOpen({ bowls, left }: { bowls: BrewView[]; left: readonly Going[] }) {
  const now = useMinute();
  const doing = useDoing();
  const since = Math.min(...left.map((each) => each.began));
  return (
    <section class="stack close">
      <h2>{say.leftOpen(formatMoment(since, now), left.length)}</h2>
      <Problem refusal={doing.refusal} />
      <Button kind="primary" busy={doing.busy} onPress={() => void doing.run(() => keepAll(bowls))}>
        {say.leftYes(left.length)}
      </Button>
      <Sure kind="quiet" label={say.leftNo(left.length)} question={say.leftNoSure} onYes={() => discardOpen(bowls)} />
    </section>
  );
}

function Notices({ bowls }: { bowls: BrewView[] }) {
  const poured = bowls.filter((bowl) => bowl.began > 0);
  if (poured.length === 0) return null;
  return (
    <section class="stack close" aria-label={say.notice}>
      <h2>{say.notice}</h2>
      <ul class="bowls">
        {poured.map((bowl) => (
          <li key={bowl.brew}>
            <a class="bowl-notice" href={paths.cup(bowl.book, bowl.brew)}>
              <span class="unseen">{say.notices(bowl.bowl)}</span>
              <span aria-hidden="true">{bowl.bowl}</span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}
