// Seals a sample: what everybody may know in the open, and the answer that nobody reads before the unsealing.

import { useState } from "preact/hooks";
import type { Additive, Allergen, Answer, AtlasView, Choice as DeclaredChoice, Declared, FlightView, Known, Source } from "../gen/types.ts";
import { facetOf, useAtlas } from "../model/atlas.ts";
import { command, useView } from "../model/core.ts";
import type { Range } from "../model/numbers.ts";
import type { Params } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { Checks, flip } from "../parts/checks/checks.tsx";
import { BlindCode, SealedEnvelope } from "../parts/envelope/envelope.tsx";
import { Check, Choice, NumberField, Pick, TextField } from "../parts/field/field.tsx";
import { NodePicker } from "../parts/nodepicker/nodepicker.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Problem, useDoing, type Doing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import * as words from "../words.ts";
import { flights, units } from "../words.ts";

const gramsRange: Range = { min: 1, max: 5000, usual: [8, 500], unit: units.gram };
const metres: Range = { min: 0, max: 4000, usual: [300, 2800], unit: units.metre, whole: true };

const FACETS = ["origin", "process", "variety", "decaf", "roast"] as const;
type StatedFacet = (typeof FACETS)[number];

const noAnswer: Answer = { roastMeter: "", altitudeLow: 0, altitudeHigh: 0, lot: "", producer: "", roasted: "", note: "" };

export function Seal({ params }: { params: Params }) {
  const club = params.club ?? "";
  const flight = params.flight ?? "";
  const seen = useView("flight", { club, flight });
  const atlas = useAtlas();
  const [code, setCode] = useState<number>();
  const [round, setRound] = useState(0);
  return (
    <Shown seen={seen} title={flights.sealTitle} above={paths.flight(club, flight)}>
      {(view) =>
        code !== undefined ? (
          <Sealed
            view={view}
            code={code}
            another={() => {
              setCode(undefined);
              setRound(round + 1);
            }}
          />
        ) : (
          atlas && <Form key={round} view={view} atlas={atlas} onSealed={setCode} />
        )
      }
    </Shown>
  );
}

function Sealed({ view, code, another }: { view: FlightView; code: number; another(): void }) {
  return (
    <Page
      title={flights.sealed}
      name={flights.sealTitle}
      above={paths.flight(view.club, view.flight)}
      action={
        <div class="pair">
          <Button onPress={another}>{flights.sealAnother}</Button>
          <Button href={paths.flight(view.club, view.flight)}>{flights.toFlight}</Button>
        </div>
      }
    >
      <div role="status">
        <SealedEnvelope code={<BlindCode code={code} />}>
          {view.title}
        </SealedEnvelope>
      </div>
      <p>{flights.sealedDo}</p>
    </Page>
  );
}

function Form({ view, atlas, onSealed }: { view: FlightView; atlas: AtlasView; onSealed(code: number): void }) {
  const [grams, setGrams] = useState<number>();
  const [declared, setDeclared] = useState<Declared>();
  const [answer, setAnswer] = useState(noAnswer);
  const [holders, setHolders] = useState<string[]>([]);
  const [sure, setSure] = useState<string[]>([]);
  const [missing, setMissing] = useState(false);
  const doing = useDoing();
  const change = (work: () => void) => {
    work();
    setSure([]);
    doing.clear();
  };
  const seal = async (confirmed: string[] = sure) => {
    setSure(confirmed);
    if (!declared || grams === undefined || Number.isNaN(grams)) return setMissing(true);
    await doing.run(async () => {
      const args = { club: view.club, flight: view.flight, grams, declared, holders, answer, sure: confirmed };
      onSealed((await command("sample.seal", args)).code);
    });
  };
  const needed = (there: boolean) => (missing && !there ? words.field.missing : undefined);
  return (
    <Page
      title={flights.sealTitle}
      above={paths.flight(view.club, view.flight)}
      aside={view.title}
      action={
        <>
          <Problem refusal={doing.refusal} onSure={(field) => void seal([...sure, field])} />
          <Button kind="primary" busy={doing.busy} onPress={() => void seal()}>
            {flights.sealNow}
          </Button>
        </>
      }
    >
      <p class="soft">{flights.sealIntro}</p>
      <NumberField label={flights.grams} range={gramsRange} value={grams} onValue={(value) => change(() => setGrams(value))} error={doing.at("grams") ?? needed(grams !== undefined)} />
      <DeclaredFields declared={declared} onDeclared={(next) => change(() => setDeclared(next))} atlas={atlas} error={needed(declared !== undefined)} doing={doing} />
      <AnswerFields answer={answer} atlas={atlas} onAnswer={(next) => change(() => setAnswer(next))} doing={doing} />
      <HolderFields view={view} holders={holders} onHolders={setHolders} />
    </Page>
  );
}

interface DeclaredProps {
  declared: Declared | undefined;
  onDeclared(declared: Declared): void;
  atlas: AtlasView;
  error: string | undefined;
  doing: Doing;
}

function DeclaredFields({ declared, onDeclared, atlas, error, doing }: DeclaredProps) {
  const now: Declared = declared ?? { choice: "unknown", allergens: [], additives: [], note: "" };
  const choose = (choice: DeclaredChoice) => onDeclared(choice === "something" ? { ...now, choice } : { ...now, choice, allergens: [], additives: [] });
  return (
    <section class="stack">
      <h2 class="title">{flights.declaredTitle}</h2>
      <Pick
        label={flights.declaredChoice}
        hint={flights.declaredHint}
        value={declared?.choice ?? ""}
        onValue={(choice) => choose(choice as DeclaredChoice)}
        options={(["nothing", "something", "unknown"] as const).map((value) => ({ value, label: words.choice[value] }))}
        error={doing.at("choice") ?? error}
      />
      {declared?.choice === "something" && (
        <>
          <Checks label={flights.additives} codes={atlas.additives} names={words.additive} chosen={now.additives} onFlip={(code: Additive) => onDeclared({ ...now, additives: flip(now.additives, code) })} />
          <Checks label={flights.allergens} codes={atlas.allergens} names={words.allergen} chosen={now.allergens} onFlip={(code: Allergen) => onDeclared({ ...now, allergens: flip(now.allergens, code) })} />
        </>
      )}
      {declared && <TextField label={flights.declaredNote} value={now.note} maxLength={300} onValue={(note) => onDeclared({ ...now, note })} error={doing.at("declared.note")} />}
    </section>
  );
}

interface AnswerProps {
  answer: Answer;
  atlas: AtlasView;
  onAnswer(answer: Answer): void;
  doing: Doing;
}

function AnswerFields({ answer, atlas, onAnswer, doing }: AnswerProps) {
  const set = (change: Partial<Answer>) => onAnswer({ ...answer, ...change });
  const text = (name: "roastMeter" | "lot" | "producer" | "roasted" | "note", label: string, hint?: string) => (
    <TextField label={label} {...(hint && { hint })} value={answer[name]} maxLength={200} onValue={(value) => set({ [name]: value })} error={doing.at(`answer.${name}`)} />
  );
  const height = (name: "altitudeLow" | "altitudeHigh", label: string) => (
    <NumberField label={label} range={metres} value={answer[name] || undefined} onValue={(value) => set({ [name]: value ?? 0 })} error={doing.at(`answer.${name}`)} />
  );
  return (
    <section class="stack">
      <h2 class="title">{flights.answerTitle}</h2>
      <p class="small soft">{flights.answerHint}</p>
      {FACETS.map((facet) => (
        <KnownField key={facet} facet={facet} atlas={atlas} known={answer[facet]} onKnown={(known) => onAnswer(withKnown(answer, facet, known))} error={doing.at(`answer.${facet}`)} />
      ))}
      <div class="fields">
        {height("altitudeLow", flights.altitudeLow)}
        {height("altitudeHigh", flights.altitudeHigh)}
      </div>
      {text("lot", flights.lot)}
      <details class="fold">
        <summary>{flights.moreAnswer}</summary>
        <div class="stack">
          {text("producer", flights.producer)}
          {text("roasted", flights.roasted)}
          {text("roastMeter", flights.roastMeter, flights.roastMeterHint)}
          {text("note", flights.answerNote)}
        </div>
      </details>
    </section>
  );
}

function withKnown(answer: Answer, facet: StatedFacet, known: Known | undefined): Answer {
  const next = { ...answer };
  if (known) next[facet] = known;
  else delete next[facet];
  return next;
}

interface KnownProps {
  facet: StatedFacet;
  atlas: AtlasView;
  known: Known | undefined;
  onKnown(known: Known | undefined): void;
  error: string | undefined;
}

function KnownField({ facet, atlas, known, onKnown, error }: KnownProps) {
  const source: Source = known?.source ?? "label";
  return (
    <div class="stack close">
      <NodePicker
        label={words.facet[facet]}
        {...(facet === "variety" && { hint: flights.severalHint })}
        nodes={facetOf(atlas, facet)?.nodes ?? []}
        chosen={known?.nodes ?? []}
        several={facet === "variety"}
        onChosen={(nodes) => onKnown(nodes.length > 0 ? { nodes, source } : undefined)}
        error={error}
      />
      {known && (
        <Choice
          label={`${flights.source} ${words.facet[facet]}`}
          value={source}
          onValue={(value) => onKnown({ ...known, source: value as Source })}
          options={atlas.sources.map((value) => ({ value, label: words.source[value] }))}
        />
      )}
    </div>
  );
}

function HolderFields({ view, holders, onHolders }: { view: FlightView; holders: string[]; onHolders(holders: string[]): void }) {
  const others = view.members.filter((member) => !member.me && !member.gone);
  if (others.length === 0) return null;
  return (
    <fieldset class="checks">
      <legend>{flights.holders}</legend>
      <p class="small soft">{flights.holdersHint}</p>
      {others.map(({ member, name }) => (
        <Check
          key={member}
          label={name || words.common.unnamed}
          checked={holders.includes(member)}
          onChecked={(on) => onHolders(on ? [...holders, member] : holders.filter((each) => each !== member))}
        />
      ))}
    </fieldset>
  );
}
