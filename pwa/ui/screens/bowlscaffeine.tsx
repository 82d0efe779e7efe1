// What the bowls would come to, before the table is set.

import { useEffect, useState } from "preact/hooks";
import type { BrewSetup, Caffeine } from "../gen/types.ts";
import { command } from "../model/core.ts";
import { bowls as say } from "../words.ts";
import { Caffeinated } from "./brewformplan.tsx";

export function BowlsCaffeine({ setup, bowls }: { setup: BrewSetup; bowls: number }) {
  const [caffeine, setCaffeine] = useState<Caffeine>();
  useEffect(() => {
    if (bowls === 0 || !(setup.dose > 0)) return setCaffeine(undefined);
    let left = false;
    command("brew.plan", { club: "", sample: "", setup, bowls }).then(
      (planned) => left || setCaffeine(planned.caffeine),
      () => {}, // the table can be set without it
    );
    return () => {
      left = true;
    };
  }, [bowls, setup.dose]);
  if (!caffeine) return null;
  return (
    <>
      <Caffeinated caffeine={caffeine} />
      {!caffeine.spits && <p class="small soft">{say.caffeine}</p>}
    </>
  );
}
