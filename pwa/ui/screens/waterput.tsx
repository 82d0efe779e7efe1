// Puts an item away, or removes it when nothing refers to it, and brings it back.

import type { ItemKind } from "../gen/types.ts";
import { command } from "../model/core.ts";
import { back } from "../model/router.ts";
import { Button } from "../parts/button/button.tsx";
import { Problem, useDoing } from "../parts/status/status.tsx";
import { Sure } from "../parts/sure/sure.tsx";
import { paths } from "../paths.ts";
import { water } from "../words.ts";

export function Put({ what, id, away }: { what: ItemKind; id: string; away: boolean }) {
  const doing = useDoing();
  if (away) {
    return (
      <>
        <Problem refusal={doing.refusal} />
        <Button busy={doing.busy} onPress={() => void doing.run(() => command("item.back", { what, id }))}>
          {water.bringBack}
        </Button>
      </>
    );
  }
  return (
    <Sure
      kind="quiet"
      label={water.remove}
      question={water.removeSure}
      onYes={async () => {
        await command("item.remove", { what, id });
        back(paths.items(what));
      }}
    />
  );
}
