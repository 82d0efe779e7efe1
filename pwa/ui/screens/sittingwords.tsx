// What is noticed at one stage: a word, then the next, from the list or one's own. What was said before stays as it was.

import { Fragment } from "preact";
import type { CupStage, MemberNoticed, NoticedStage, NoticedView } from "../gen/types.ts";
import { useMinute } from "../model/clock.ts";
import { command, useView } from "../model/core.ts";
import { formatHour, formatMoment } from "../model/times.ts";
import { useWordsDraft, withTyped } from "../model/wordsdraft.ts";
import { Button } from "../parts/button/button.tsx";
import { TextField } from "../parts/field/field.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import * as words from "../words.ts";
import { sitting } from "../words.ts";

/** The brew, or the sample before it is brewed. */
export interface NoticedOf {
  book: string;
  brew: string;
  club: string;
  sample: string;
}

export interface Noticing {
  picked: string[];
  toggle(word: string): void;
  /** What stands in the field: one word or several. It is kept with those that were picked, added or not. */
  typed: string;
  type(text: string): void;
  add(text: string): void;
  any: boolean;
  keep(): Promise<void>;
  busy: boolean;
  problem: ReturnType<typeof useDoing>["refusal"];
}

export function useNoticing(of: NoticedOf, stage: CupStage): Noticing {
  const draft = `noticed ${of.brew || of.sample} ${stage}`;
  const [picked, setPicked] = useWordsDraft(draft);
  const [[typed = ""], setTyped] = useWordsDraft(`${draft} typed`);
  const doing = useDoing();
  const type = (text: string) => setTyped(text ? [text] : []);
  const all = withTyped(picked, typed);
  return {
    picked,
    typed,
    type,
    add(text) {
      setPicked(withTyped(picked, text));
      type("");
    },
    any: all.length > 0,
    busy: doing.busy,
    problem: doing.refusal,
    toggle: (word) => setPicked(picked.includes(word) ? picked.filter((each) => each !== word) : [...picked, word]),
    async keep() {
      if (!(await doing.run(() => command("cup.notice", { ...of, stage, words: all })))) return;
      setPicked([]);
      type("");
    },
  };
}

export function NoticeWords({ noticing, seen, stage }: { noticing: Noticing; seen: NoticedView; stage: CupStage }) {
  const { picked, toggle, typed, type, add } = noticing;
  const found = useView("cup-words", { typed }).value?.words ?? [];
  const before = wordsBefore(seen, stage).filter((word) => !picked.includes(word));
  return (
    <>
      <form
        class="notice-field"
        onSubmit={(event) => {
          event.preventDefault();
          add(typed);
        }}
      >
        <TextField label={sitting.what} value={typed} maxLength={60} capitals="none" onValue={type} />
        <Button submit disabled={typed.trim() === ""}>
          {sitting.add}
        </Button>
      </form>
      {found.length > 0 && <WordRow label={sitting.found} list={found.filter((word) => !picked.includes(word))} onWord={add} />}
      {picked.length > 0 && <WordRow label={sitting.picked} list={picked} onWord={toggle} pressed />}
      {found.length === 0 && before.length > 0 && <WordRow label={sitting.before} list={before} onWord={toggle} shown />}
      <Problem refusal={noticing.problem} />
    </>
  );
}

interface RowProps {
  label: string;
  list: readonly string[];
  onWord(word: string): void;
  pressed?: boolean;
  shown?: boolean;
}

function WordRow({ label, list, onWord, pressed = false, shown = false }: RowProps) {
  return (
    <div class="stack close" role="group" aria-label={label}>
      {shown && <p class="small soft">{label}</p>}
      <div class="notice-words">
        {list.map((word) => (
          <Button key={word} pressed={pressed} onPress={() => onWord(word)}>
            {word}
          </Button>
        ))}
      </div>
    </div>
  );
}

/** Words of the other stages that are smelled or tasted, newest first: to find again, or not. */
function wordsBefore(seen: NoticedView, stage: CupStage): string[] {
  const said = seen.stages.filter((each) => each.stage !== stage && each.stage !== "beans").flatMap((each) => each.times);
  said.sort((a, b) => b.at - a.at);
  return [...new Set(said.flatMap((each) => each.words))].slice(0, 12);
}

/** What was noticed so far, stage by stage, each with its time. */
export function NoticedList({ stages, of }: { stages: readonly NoticedStage[]; of?: string }) {
  const now = useMinute();
  if (stages.length === 0) return null;
  return (
    <section class="stack close">
      {of === undefined ? <h2>{sitting.kept}</h2> : <h3>{of}</h3>}
      <dl class="notice-past">
        {stages.map(({ stage, times }) => (
          <Fragment key={stage}>
            <dt>{words.cupStage[stage]}</dt>
            {times.map((time, i) => (
              <dd key={time.at} class={i > 0 ? "again" : ""} style={{ gridColumn: 2 }}>
                <bdi>{time.words.join(", ")}</bdi>
                <span class="notice-at"> {now - time.at < DAY_MS ? formatHour(time.at) : formatMoment(time.at, now)}</span>
              </dd>
            ))}
          </Fragment>
        ))}
      </dl>
    </section>
  );
}

const DAY_MS = 20 * 3_600_000;

/** After the unsealing: what everybody noticed of a sample. */
export function TableNoticed({ noticed }: { noticed: readonly MemberNoticed[] }) {
  if (noticed.length === 0) return null;
  return (
    <section class="stack close">
      <h2>{sitting.tableNoticed}</h2>
      {noticed.map((each) => (
        <NoticedList key={each.member} of={each.name || words.common.unnamed} stages={each.stages} />
      ))}
    </section>
  );
}
