// One's data: out as one file or as tables, and a file back in. Nothing here needs a network.

import { useState } from "preact/hooks";
import type { DataView } from "../gen/types.ts";
import { useView } from "../model/core.ts";
import { formatCode } from "../model/going.ts";
import { brewsTable, csv, cupsTable, namesOf, type Cell, type CsvStyle } from "../model/csv.ts";
import { canSend, dayOf, download, sendFile } from "../model/download.ts";
import { collect, write, type Collected } from "../model/file.ts";
import { formatNumber } from "../model/numbers.ts";
import { Button } from "../parts/button/button.tsx";
import { Pick } from "../parts/field/field.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { Problem, StatusLine, useDoing } from "../parts/status/status.tsx";
import { paths } from "../paths.ts";
import { data } from "../words.ts";
import { Bring } from "./datain.tsx";

export function Data() {
  const seen = useView("data");
  return (
    <Shown seen={seen} title={data.title} above={paths.cupboard}>
      {(view) => (
        <Page title={data.title} above={paths.cupboard}>
          <p>{data.intro}</p>
          <Out view={view} />
          <Bring />
          {view.history.length > 0 && <History view={view} />}
        </Page>
      )}
    </Shown>
  );
}

/** Made of all records; with what was left out. */
type Make = (collected: Collected, today: string) => Promise<{ name: string; type: string; parts: string[] }>;

function Out({ view }: { view: DataView }) {
  const [style, setStyle] = useState<CsvStyle["separator"]>(",");
  const atlas = useView("atlas").value;
  const holds = `${view.items} ${view.brews} ${view.history.length}`; // a file that was made before something came in is not all of it
  const table = (name: (day: string) => string, rows: (collected: Collected) => Cell[][]): Make => async (collected, today) => ({
    name: name(today),
    type: "text/csv",
    parts: [csv(rows(collected), { separator: style })],
  });
  const whole: Make = async (collected, today) => ({ name: data.fileName(today), type: "application/json", parts: await write(collected, Date.now()) });
  return (
    <>
      <section class="stack close">
        <h2>{data.all}</h2>
        <p>
          {data.items(view.items)}, {data.brews(view.brews)}
        </p>
        <p class="small soft">{data.whatIsIn}</p>
        <p class="small soft">{data.whatIsNot}</p>
        <Hand key={holds} label={data.make} make={whole} primary />
      </section>
      <section class="stack close">
        <h2>{data.tables}</h2>
        <Pick
          label={data.style}
          value={style}
          onValue={(value) => setStyle(value as CsvStyle["separator"])}
          options={Object.entries(data.styles).map(([value, label]) => ({ value, label }))}
        />
        <Hand key={`brews ${style} ${holds}`} label={data.brewsTable} make={table(data.brewsName, ({ records }) => brewsTable(records))} />
        <Hand key={`cups ${style} ${holds}`} label={data.cupsTable} make={table(data.cupsName, ({ records }) => cupsTable(records, namesOf(atlas)))} />
      </section>
    </>
  );
}

interface Made {
  file: File;
  going: number;
  unread: number;
}

/** Makes a file when asked, then hands it over: a browser opens its sheet only by a touch of its own. */
function Hand({ label, make, primary }: { label: string; make: Make; primary?: boolean }) {
  const [done, setDone] = useState("");
  const [made, setMade] = useState<Made>();
  const [saved, setSaved] = useState(false);
  const doing = useDoing();
  const begin = () =>
    doing.run(async () => {
      const collected = await collect((count, all) => setDone(data.making(count, all)));
      const { name, type, parts } = await make(collected, dayOf(Date.now()));
      setMade({ file: new File(parts, name, { type }), going: collected.going, unread: collected.unread });
      setDone("");
    });
  if (!made) {
    return (
      <>
        <Problem refusal={doing.refusal} />
        <Button kind={primary ? "primary" : "plain"} busy={doing.busy} onPress={() => void begin()}>
          {label}
        </Button>
        <StatusLine>{doing.busy && done}</StatusLine>
      </>
    );
  }
  const { file, going, unread } = made;
  return (
    <div class="stack close" role="status">
      <p>
        <strong>{data.ready(file.name, sizeOf(file.size))}</strong>
      </p>
      {going > 0 && <p>{data.going(going)}</p>}
      {unread > 0 && <p>{data.unread(unread)}</p>}
      <div class="pair">
        {canSend(file) && <Button onPress={() => void sendFile(file)}>{data.send}</Button>}
        <Button
          onPress={() => {
            download(file);
            setSaved(true);
          }}
        >
          {data.download}
        </Button>
      </div>
      <StatusLine>{saved && data.saved}</StatusLine>
    </div>
  );
}

function sizeOf(bytes: number): string {
  return bytes < 1e6 ? data.kilobytes(formatNumber(Math.max(bytes / 1000, 0.1), 1)) : data.megabytes(formatNumber(bytes / 1e6, 1));
}

function History({ view }: { view: DataView }) {
  return (
    <section class="stack close">
      <h2>{data.historyTitle}</h2>
      <p class="small soft">{data.historyText}</p>
      <ul class="list">
        {view.history.map((cup) => (
          <li key={cup.of.club + cup.of.sample} class="list-row">
            <strong>{formatCode(cup.of.code)}</strong>
            <span class="grow">{cup.of.title}</span>
            <span class="small soft">{cup.clubName}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
