// A grinder with its own scale. A setting can be tried before anything is kept.

import { useState } from "preact/hooks";
import type { Burr, Grinder, GrinderItem, GrinderScale } from "../gen/types.ts";
import { command } from "../model/core.ts";
import { formatNumber, type Range } from "../model/numbers.ts";
import type { Params } from "../model/router.ts";
import { useAnswer } from "../model/water.ts";
import { Check, NumberField, Pick, TextField } from "../parts/field/field.tsx";
import { WeightField } from "../parts/measure/measure.tsx";
import * as words from "../words.ts";
import { items } from "../words.ts";
import { emptied, ItemForm, OfCupboard, useTyping, type Typing } from "./itemform.tsx";

export const freshGrinder: Grinder = {
  id: "", name: "", burr: "", scale: "clicks", perTurn: 0, step: 0, marks: [], finest: "", coarse: "", stays: 0, shared: false, note: "",
};

export const clicks: Range = { min: 1, max: 1000, usual: [2, 120], whole: true };
const dial: Range = { min: 0, max: 100, usual: [0.05, 5] };
const stays: Range = { min: 0, max: 50, usual: [0, 5] };

export function GrinderOf({ params }: { params: Params }) {
  return (
    <OfCupboard what="grinder" params={params} title={items.newGrinder} find={(view, id) => view.grinders.find(({ grinder }) => grinder.id === id)}>
      {(item) => <Form key={params.id} item={item} />}
    </OfCupboard>
  );
}

function Form({ item }: { item: GrinderItem | undefined }) {
  const typing = useTyping(item?.grinder ?? { ...freshGrinder, name: items.grinderName });
  const { typed, set, doing } = typing;
  const burrs = Object.entries(words.burr).map(([value, label]) => ({ value, label }));
  return (
    <ItemForm {...typing} what="grinder" title={items.newGrinder} kept={item?.kept} save={(grinder) => command("grinder.save", grinder)}>
      <ScalePick value={typed.scale} onValue={(scale) => set({ scale, ...emptied(typed, ["perTurn", "step"]) })} error={doing.at("scale")} />
      <ScaleFields {...typing} />
      <TryIt grinder={typed} />
      <Pick label={items.burr} value={typed.burr} onValue={(burr) => set({ burr: burr as Burr })} options={burrs} error={doing.at("burr")} />
      <Check label={items.shared} checked={typed.shared} onChecked={(shared) => set({ shared })} />
      <details class="fold" open={typed.stays > 0 || typed.finest !== "" || typed.coarse !== "" || doing.refusal !== undefined}>
        <summary>{items.more}</summary>
        <div class="stack">
          {typed.scale !== "words" && <Stops {...typing} />}
          <WeightField label={items.stays} hint={items.staysHint} range={stays} value={typed.stays || undefined} onValue={(value) => set({ stays: value ?? 0 })} error={doing.at("stays")} />
        </div>
      </details>
    </ItemForm>
  );
}

export function ScalePick({ value, onValue, error }: { value: GrinderScale; onValue(scale: GrinderScale): void; error?: string | undefined }) {
  const options = Object.entries(items.scaleName).map(([scale, label]) => ({ value: scale, label }));
  return <Pick label={items.scale} value={value} onValue={(scale) => onValue(scale as GrinderScale)} options={options} error={error} />;
}

/** What a scale needs to be read. */
function ScaleFields({ typed, set, doing }: Typing<Grinder>) {
  const perTurn = (label: string) => (
    <NumberField key={typed.scale} label={label} range={clicks} value={typed.perTurn || undefined} onValue={(value) => set({ perTurn: value ?? 0 })} error={doing.at("perTurn")} />
  );
  switch (typed.scale) {
    case "turns":
      return perTurn(items.perTurn);
    case "numbers":
      return <NumberField label={items.dialStep} hint={items.dialStepHint} range={dial} value={typed.step || undefined} onValue={(step) => set({ step: step ?? 0 })} error={doing.at("step")} />;
    case "letters":
      return (
        <div class="stack">
          <Marks marks={typed.marks} onMarks={(marks) => set({ marks })} error={doing.at("marks")} />
          {perTurn(items.perMark)}
        </div>
      );
    default:
      return null;
  }
}

/** Keeps what was typed: a space that ends it is about to have a letter after it. */
function Marks({ marks, onMarks, error }: { marks: readonly string[]; onMarks(marks: string[]): void; error: string | undefined }) {
  const [text, setText] = useState(marks.join(" "));
  const type = (next: string) => {
    setText(next);
    onMarks(next.split(/\s+/).filter(Boolean));
  };
  return <TextField label={items.marks} hint={items.marksHint} value={text} capitals="characters" maxLength={200} onValue={type} error={error} />;
}

function Stops({ typed, set, doing }: Typing<Grinder>) {
  const stop = (name: "finest" | "coarse") => (
    <TextField label={items[name]} value={typed[name]} maxLength={20} capitals="none" onValue={(value) => set({ [name]: value })} error={doing.at(name)} />
  );
  return (
    <>
      <p class="small soft">{items.stops}</p>
      <div class="fields">
        {stop("finest")}
        {stop("coarse")}
      </div>
    </>
  );
}

/** Type a setting of yours: 1+12 reads as 36 steps from zero. */
function TryIt({ grinder }: { grinder: Grinder }) {
  const [setting, setSetting] = useState("");
  const asked = setting.trim() === "" || Number.isNaN(grinder.step) || Number.isNaN(grinder.perTurn) ? undefined : { grinder, setting };
  const reads = useAnswer(asked, (question) => command("grinder.read", question));
  return (
    <div class="stack close">
      <TextField label={items.tryIt} value={setting} maxLength={20} capitals="none" onValue={setSetting} />
      <p class="small" role="status">
        {reads && (reads.fault ? items.faults[reads.fault] : items.reads(reads.says, formatNumber(reads.steps, 1), reads.less, reads.more))}
      </p>
    </div>
  );
}
