// Begins a flight, and changes its words or its close.

import { useState } from "preact/hooks";
import type { AtlasView, Facet, FlightView, Narrowing } from "../gen/types.ts";
import { facetOf, useAtlas } from "../model/atlas.ts";
import { useClubTime } from "../model/clubtime.ts";
import { command, useView } from "../model/core.ts";
import { go, type Params } from "../model/router.ts";
import { fromLocalInput, toLocalInput } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { Check, MomentField, Pick, TextField } from "../parts/field/field.tsx";
import { NodePicker } from "../parts/nodepicker/nodepicker.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { flights } from "../words.ts";

/** The flight's own default, and the order in which the others are offered. */
const ASKED: readonly Facet[] = ["process", "origin", "roast"];
const ALL: readonly Facet[] = ["process", "origin", "roast", "decaf", "variety", "altitude"];
const DAY = 24 * 60 * 60 * 1000;

export function FlightNew({ params }: { params: Params }) {
  const club = params.club ?? "";
  const atlas = useAtlas();
  const { toServer } = useClubTime();
  const [title, setTitle] = useState("");
  const [note, setNote] = useState("");
  const [close, setClose] = useState<Close>({ how: "hand", when: tomorrowEvening() });
  const [questions, setQuestions] = useState<Facet[]>([...ASKED]);
  const [narrowing, setNarrowing] = useState<Narrowing[]>([]);
  const doing = useDoing();
  const closes = closeOf(close);
  const create = () =>
    doing.run(async () => {
      const asked = ALL.filter((facet) => questions.includes(facet));
      const args = { club, title, note, closes: closes ? toServer(closes) : 0, questions: asked, narrowing };
      const { flight } = await command("flight.create", args);
      go(paths.flight(club, flight), "replace");
    });
  return (
    <Page
      title={flights.newTitle}
      above={paths.flights}
      action={
        <>
          <Problem refusal={doing.refusal} />
          <Button kind="primary" busy={doing.busy} onPress={() => void create()}>
            {flights.create}
          </Button>
        </>
      }
    >
      <TextField label={flights.name} hint={flights.nameHint} value={title} maxLength={60} onValue={setTitle} error={doing.at("title")} />
      <TextField label={flights.note} hint={flights.noteHint} value={note} rows={3} onValue={setNote} error={doing.at("note")} />
      <CloseFields close={close} onClose={setClose} error={doing.at("closes")} />
      <section class="stack close">
        <h2>{flights.questions}</h2>
        {ALL.map((facet) => (
          <Check
            key={facet}
            label={words.facet[facet]}
            checked={questions.includes(facet)}
            onChecked={(on) => setQuestions(on ? [...questions, facet] : questions.filter((each) => each !== facet))}
          />
        ))}
      </section>
      {atlas && <NarrowingFields atlas={atlas} narrowing={narrowing} onNarrowing={setNarrowing} />}
      <p class="small soft">{flights.prior}</p>
    </Page>
  );
}

function NarrowingFields({ atlas, narrowing, onNarrowing }: { atlas: AtlasView; narrowing: Narrowing[]; onNarrowing(n: Narrowing[]): void }) {
  const chosen = (facet: Facet) => narrowing.find((each) => each.facet === facet)?.nodes ?? [];
  const set = (facet: Facet, nodes: string[]) => {
    const others = narrowing.filter((each) => each.facet !== facet);
    onNarrowing(nodes.length === 0 ? others : [...others, { facet, nodes }]);
  };
  return (
    <section class="stack close">
      <h2>{flights.narrowing}</h2>
      <p class="small soft">{flights.narrowingHint}</p>
      {(["origin", "process", "decaf"] as const).map((facet) => (
        <NodePicker
          key={facet}
          label={words.facet[facet]}
          nodes={facetOf(atlas, facet)?.nodes ?? []}
          chosen={chosen(facet)}
          several
          onChosen={(nodes) => set(facet, nodes)}
        />
      ))}
    </section>
  );
}

export function FlightEdit({ params }: { params: Params }) {
  const club = params.club ?? "";
  const flight = params.flight ?? "";
  const seen = useView("flight", { club, flight });
  return (
    <Shown seen={seen} title={flights.editTitle} above={paths.flight(club, flight)}>
      {(view) => <Edit view={view} />}
    </Shown>
  );
}

function Edit({ view }: { view: FlightView }) {
  const { club, flight } = view;
  const { toServer, toPhone } = useClubTime();
  const [title, setTitle] = useState(view.title);
  const [note, setNote] = useState(view.note);
  const [close, setClose] = useState<Close>(() => ({
    how: view.closes ? "time" : "hand",
    when: view.closes ? toLocalInput(toPhone(view.closes)) : tomorrowEvening(),
  }));
  const [moved, setMoved] = useState(false);
  const doing = useDoing();
  const closes = closeOf(close);
  const save = () =>
    doing.run(async () => {
      if (title !== view.title || note !== view.note) await command("flight.edit", { club, flight, title, note });
      if (moved) await command("flight.closing", { club, flight, closes: closes ? toServer(closes) : 0 });
      go(paths.flight(club, flight), "replace");
    });
  return (
    <Page
      title={flights.editTitle}
      above={paths.flight(club, flight)}
      action={
        <>
          <Problem refusal={doing.refusal} />
          <Button kind="primary" busy={doing.busy} onPress={() => void save()}>
            {words.common.save}
          </Button>
        </>
      }
    >
      {view.may.includes("edit") && (
        <>
          <TextField label={flights.name} hint={flights.nameHint} value={title} maxLength={60} onValue={setTitle} error={doing.at("title")} />
          <TextField label={flights.note} hint={flights.noteHint} value={note} rows={3} onValue={setNote} error={doing.at("note")} />
        </>
      )}
      {view.may.includes("closing") && (
        <CloseFields
          close={close}
          onClose={(next) => {
            setClose(next);
            setMoved(true);
          }}
          error={doing.at("closes")}
        />
      )}
    </Page>
  );
}

interface Close {
  how: "hand" | "time";
  /** As the browser's field has it, in this phone's time zone. */
  when: string;
}

const closeOf = ({ how, when }: Close): number => (how === "hand" ? 0 : (fromLocalInput(when) ?? 0));

function tomorrowEvening(): string {
  return `${toLocalInput(Date.now() + DAY).slice(0, 10)}T21:00`;
}

function CloseFields({ close, onClose, error }: { close: Close; onClose(close: Close): void; error: string | undefined }) {
  const past = close.how === "time" && closeOf(close) < Date.now();
  return (
    <>
      <Pick
        label={flights.closing}
        hint={flights.closingHint}
        value={close.how}
        onValue={(how) => onClose({ ...close, how: how as Close["how"] })}
        options={[
          { value: "hand", label: flights.byHand },
          { value: "time", label: flights.atTime },
        ]}
        error={close.how === "hand" ? error : undefined}
      />
      {close.how === "time" && (
        <MomentField label={flights.closesWhen} value={close.when} onValue={(when) => onClose({ ...close, when })} error={past ? flights.closesPast : error} />
      )}
    </>
  );
}
