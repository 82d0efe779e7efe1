// The whole log, newest first, a page at a time.

import { useState } from "preact/hooks";
import { useView } from "../model/core.ts";
import { Button } from "../parts/button/button.tsx";
import { Page } from "../parts/page/page.tsx";
import { Shown } from "../parts/shown/shown.tsx";
import { paths } from "../paths.ts";
import { words } from "../words.ts";
import { BrewList } from "./bench.tsx";

const STEP = 50;
const MOST = 200;

export function BrewLog() {
  const [pages, setPages] = useState<string[]>([]);
  const [limit, setLimit] = useState(STEP);
  const after = pages.at(-1);
  const seen = useView("brews", after === undefined ? { limit, search: {} } : { after, limit, search: {} });
  const older = (more: string) => {
    // a page grows until it is as long as a page may be; then the next one begins
    if (limit < MOST) setLimit(limit + STEP);
    else setPages([...pages, more]);
  };
  return (
    <Shown seen={seen} title={words.bench.log} above={paths.bench}>
      {(view) => (
        <Page title={words.bench.log} above={paths.bench}>
          {view.all === 0 && <p class="soft">{words.bench.logEmpty}</p>}
          {pages.length > 0 && <Button onPress={() => setPages(pages.slice(0, -1))}>{words.bench.newer}</Button>}
          <BrewList brews={view.brews} />
          {view.more !== "" && <Button onPress={() => older(view.more)}>{words.bench.older}</Button>}
        </Page>
      )}
    </Shown>
  );
}
