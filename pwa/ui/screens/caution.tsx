// A caution that is read once: shown where it matters, until the person says that it was read. Later it stands in the Cupboard.

import type { Caution as Code } from "../gen/types.ts";
import { command, useView } from "../model/core.ts";
import { Button } from "../parts/button/button.tsx";
import { Care } from "../parts/status/status.tsx";
import * as words from "../words.ts";

interface Props {
  caution: Code;
  title: string;
  text: string | readonly string[];
}

export function Caution({ caution, title, text }: Props) {
  const notebook = useView("notebook").value;
  if (!notebook || notebook.seen.includes(caution)) return null;
  return (
    <Care title={title}>
      {[text].flat().map((paragraph) => (
        <p key={paragraph}>{paragraph}</p>
      ))}
      <div>
        <Button onPress={() => void command("safety.seen", { caution }).catch(() => {})}>{words.bench.careRead}</Button>
      </div>
    </Care>
  );
}

/** What to know before the first brew, of whatever kind: one card, not one for each danger. */
export function BrewCaution({ first }: { first?: string }) {
  const careTitle = words.bench.careTitle;
  const careText = words.bench.careText;
  const careCaffeine = words.bench.careCaffeine;
  const careAgain = words.bench.careAgain;
  return <Caution caution="hot-water" title={careTitle} text={[...(first ? [first] : []), careText, careCaffeine, careAgain]} />;
}
