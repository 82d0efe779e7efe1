// A club's common water: one target for everybody, what one's own Cupboard makes of it, and who can, cannot, or has not said.

import { useState } from "preact/hooks";
import type { ClubWaterView, WaterReach, WaterTarget, WaterView } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import type { Params } from "../model/router.ts";
import { formatTarget } from "../model/water.ts";
import { Button } from "../parts/button/button.tsx";
import { Pick, TextField } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { Sure } from "../parts/sure/sure.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { water } from "../words.ts";
import { Misses, Parts } from "./mixed.tsx";
import { TargetFields } from "./mix.tsx";

export function ClubWater({ params }: { params: Params }) {
  const club = params.club ?? "";
  const seen = useView("clubwater", { club });
  const facts = useView("water");
  return (
    <Shown seen={seen} title={water.clubTitle} above={paths.club(club)}>
      {(view) => (
        <Shown seen={facts} title={water.clubTitle} above={paths.club(club)}>
          {(own) => <Common view={view} own={own} />}
        </Shown>
      )}
    </Shown>
  );
}

function Common({ view, own }: { view: ClubWaterView; own: WaterView }) {
  const [changing, setChanging] = useState(false);
  return (
    <Page title={water.clubTitle} above={paths.club(view.club)} aside={view.name}>
      <p class="soft">{water.clubIntro}</p>
      {view.target ? <p class="title">{formatTarget(view.target, own.units, own.unit)}</p> : <p>{water.clubNone}</p>}
      {view.target && view.note && <p>{view.note}</p>}
      {view.may && (changing || !view.target ? <Set view={view} own={own} done={() => setChanging(false)} /> : <Change view={view} change={() => setChanging(true)} />)}
      {view.target && !changing && <Mine view={view} own={own} />}
      {view.target && <Members view={view} />}
    </Page>
  );
}

function Change({ view, change }: { view: ClubWaterView; change(): void }) {
  return (
    <div class="pair">
      <Sure kind="quiet" label={water.clubTake} question={water.clubTakeSure} onYes={() => command("club.water", { club: view.club, note: "" })} />
      <Button onPress={change}>{water.clubChange}</Button>
    </div>
  );
}

function Set({ view, own, done }: { view: ClubWaterView; own: WaterView; done(): void }) {
  const [target, setTarget] = useState<WaterTarget>(view.target ?? middleOf(own));
  const [note, setNote] = useState(view.note);
  const doing = useDoing();
  const wrong = Object.values(target).some(Number.isNaN);
  const set = async () => {
    if (await doing.run(() => command("club.water", { club: view.club, target, note }))) done();
  };
  return (
    <section class="stack close">
      <TargetFields view={own} unit={own.unit} target={target} set={setTarget} at={doing.at} />
      <TextField label={water.clubNote} hint={water.clubNoteHint} value={note} rows={2} maxLength={500} onValue={setNote} error={doing.at("note")} />
      <Problem refusal={doing.refusal} />
      <div class="pair">
        {view.target && <Button onPress={done}>{words.common.cancel}</Button>}
        <Button busy={doing.busy} disabled={wrong} onPress={() => void set()}>
          {water.clubSet}
        </Button>
      </div>
    </section>
  );
}

/** A sensible start: the middle of the newest range. */
function middleOf({ ranges }: WaterView): WaterTarget {
  const [newest] = ranges;
  return newest
    ? { hardness: Math.round((newest.hardnessLow + newest.hardnessHigh) / 2), alkalinity: Math.round((newest.alkalinityLow + newest.alkalinityHigh) / 2), magnesium: -1 }
    : { hardness: 100, alkalinity: 50, magnesium: -1 };
}

function Mine({ view, own }: { view: ClubWaterView; own: WaterView }) {
  const doing = useDoing();
  const { mine } = view;
  return (
    <section class="stack close">
      <h2>{water.clubMine}</h2>
      {mine ? (
        <>
          <p>{mine.misses.length === 0 ? water.clubReaches : water.clubNear}</p>
          <Parts parts={mine.parts} view={own} />
          {mine.misses.length > 0 && <Misses mixed={mine} view={own} />}
        </>
      ) : (
        <>
          <p>{water.clubNoSources}</p>
          <Button href={paths.itemNew("water")}>{words.items.add.water}</Button>
        </>
      )}
      <Button href={paths.mixFor(view.club)}>{water.clubTry}</Button>
      <Pick
        label={water.clubSay}
        hint={water.clubSayHint}
        value={view.says}
        onValue={(says) => void doing.run(() => command("club.reach", { club: view.club, says: says as WaterReach }))}
        options={(["yes", "no", ""] as const).map((value) => ({ value, label: water.iSay[value] }))}
      />
      <Problem refusal={doing.refusal} />
    </section>
  );
}

function Members({ view }: { view: ClubWaterView }) {
  return (
    <section class="stack close">
      <h2>{words.club.members}</h2>
      <p class="small soft">
        {(["yes", "no", ""] as const).map((says) => water.count(view.members.filter((each) => each.says === says).length, water.counted[says])).join(", ")}
      </p>
      <ul class="list">
        {view.members.map((member) => (
          <li key={member.member} class="list-row">
            <span class="grow">{member.me ? words.common.you : member.name || words.common.unnamed}</span>
            <span class="small soft">{water.says[member.says]}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
