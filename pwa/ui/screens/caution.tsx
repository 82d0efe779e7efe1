// A caution that is read once: shown where it matters, until the person says that it was read.

import type { Caution as Code } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import { Button } from "../parts/button/button.tsx";
import { Care } from "../parts/status/status.tsx";
import { words } from "../words.ts";

export function Caution({ caution, title, text }: { caution: Code; title: string; text: string }) {
  const notebook = useView("notebook").value;
  if (!notebook || notebook.seen.includes(caution)) return null;
  return (
    <Care title={title}>
      <p>{text}</p>
      <div>
        <Button onPress={() => void command("safety.seen", { caution }).catch(() => {})}>{words.bench.careRead}</Button>
      </div>
    </Care>
  );
}
