// A file comes back in: read first, then asked, then brought in, and told what came of each part of it.

import { useRef, useState } from "preact/hooks";
import { useMinute } from "../model/clock.ts";
import { Refusal } from "../model/core.ts";
import { FileError, readFile, takeAll, type Contents, type TakenAll } from "../model/file.ts";
import { formatMoment } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { Problem, StatusLine, useDoing } from "../parts/status/status.tsx";
import * as words from "../words.ts";
import { data } from "../words.ts";

interface Came {
  taken: TakenAll;
  failed: unknown;
}

export function Bring() {
  const [contents, setContents] = useState<Contents>();
  const [progress, setProgress] = useState("");
  const [came, setCame] = useState<Came>();
  const doing = useDoing();
  const choose = (file: File | undefined) => {
    if (!file) return;
    setContents(undefined);
    setCame(undefined);
    void doing.run(async () => setContents(await readFile(file).catch(inWords)));
  };
  const bring = (what: Contents) =>
    doing.run(async () => {
      const { taken, failed } = await takeAll(what, (done, all) => setProgress(data.making(done, all)));
      setCame({ taken, failed });
      setContents(undefined);
      setProgress("");
    });
  return (
    <section class="stack close">
      <h2>{data.bring}</h2>
      <p class="small soft">{data.bringHint}</p>
      <Problem refusal={doing.refusal} />
      {contents && <Found contents={contents} />}
      {contents && (
        <Button busy={doing.busy} onPress={() => void bring(contents)}>
          {data.takeIn}
        </Button>
      )}
      <StatusLine>{doing.busy && (progress || data.reading)}</StatusLine>
      {came && <Outcome {...came} />}
      <Choose label={contents || came ? data.other : data.choose} onFile={choose} />
    </section>
  );
}

/** A fault of the file becomes a refusal with its words. */
function inWords(reason: unknown): never {
  if (!(reason instanceof FileError)) throw reason;
  const [text, hint] = data.fault[reason.fault];
  throw new Refusal(reason.fault, text, hint, "");
}

function Choose({ label, onFile }: { label: string; onFile(file: File | undefined): void }) {
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <input
        ref={input}
        hidden
        type="file"
        accept=".json,application/json"
        onChange={(event) => {
          onFile(event.currentTarget.files?.[0]);
          event.currentTarget.value = ""; // the same file may be chosen again
        }}
      />
      <Button onPress={() => input.current?.click()}>{label}</Button>
    </>
  );
}

function Found({ contents }: { contents: Contents }) {
  const now = useMinute();
  const { head, records } = contents;
  return (
    <p>
      <strong>{head.made ? data.found(records.length, formatMoment(head.made, now)) : data.foundUndated(records.length)}</strong>
    </p>
  );
}

/** At most so many refused records are told one by one. */
const TOLD = 5;

function Outcome({ taken, failed }: Came) {
  const lines = [
    taken.taken > 0 ? data.took(taken.taken) : data.nothingTook,
    taken.known > 0 && data.known(taken.known),
    taken.gone > 0 && data.gone(taken.gone),
    taken.history > 0 && data.history(taken.history),
    taken.less > 0 && data.less(taken.less),
    taken.left > 0 && data.left(taken.left),
  ].filter((line) => line !== false);
  return (
    <div class="stack close" role="status">
      {failed !== undefined && <Problem refusal={failed instanceof Refusal ? failed : new Refusal("unknown", words.errors.unknown!.text, "", "")} />}
      {lines.map((line) => (
        <p key={line}>{line}</p>
      ))}
      {failed !== undefined && <p>{data.again}</p>}
      {taken.refused.length > 0 && (
        <>
          <p>{data.refused(taken.refused.length)}</p>
          <ul class="list">
            {taken.refused.slice(0, TOLD).map(({ index, error }) => (
              <li key={index}>{data.refusedAt(index + 1, error.text, error.field ?? "")}</li>
            ))}
          </ul>
          {taken.refused.length > TOLD && <p>{data.refusedMore(taken.refused.length - TOLD)}</p>}
        </>
      )}
    </div>
  );
}
