// What water a brew is made with: one of the Cupboard's, or the club's common water for a sample of the club.

import type { BrewSetup, ClubWaterView, Water } from "../gen/types.ts";
import { formatNumber } from "../model/numbers.ts";
import { Choice } from "../parts/field/field.tsx";
import { paths } from "../paths.ts";
import { bench } from "../words.ts";

/** A brew keeps the common water by this name: its numbers are in it, since a club may set another one later. */
function nameOf({ name, target }: ClubWaterView): string {
  return target ? bench.clubWater(name.slice(0, 60), formatNumber(target.hardness, 0), formatNumber(target.alkalinity, 0)) : "";
}

/** A sample is brewed with the club's water, except by who has said that they cannot make it. */
export function withClubWater(setup: BrewSetup, club: ClubWaterView | undefined): BrewSetup {
  return club?.target && club.says !== "no" ? { ...setup, waterID: "", waterName: nameOf(club) } : setup;
}

const CLUB = "club";
const NAMED = "named";

interface Props {
  setup: BrewSetup;
  set(change: Partial<BrewSetup>): void;
  waters: readonly Water[];
  club: ClubWaterView | undefined;
  error: string | undefined;
}

export function BrewWater({ setup, set, waters, club, error }: Props) {
  const common = club ? nameOf(club) : "";
  const own = waters.some(({ id }) => id === setup.waterID);
  const named = !own && setup.waterName !== common ? setup.waterName : ""; // of a brew before: in words only, or put away since
  if (waters.length === 0 && !common && !named) return null;
  const options = [
    { value: "", label: bench.waterAny },
    ...(common ? [{ value: CLUB, label: common }] : []),
    ...(named ? [{ value: NAMED, label: named }] : []),
    ...waters.map(({ id, name }) => ({ value: id, label: name })),
  ];
  const pick = (value: string) => {
    if (value === NAMED) return;
    const water = waters.find(({ id }) => id === value);
    set({ waterID: water?.id ?? "", waterName: water?.name ?? (value === CLUB ? common : "") });
  };
  return (
    <div class="stack close">
      <Choice label={bench.waterKind} value={own ? setup.waterID : setup.waterName === "" ? "" : named ? NAMED : CLUB} onValue={pick} options={options} error={error} />
      {club && common && (
        <p class="small">
          {common} <a href={paths.clubWater(club.club)}>{bench.clubWaterHow}</a>
        </p>
      )}
    </div>
  );
}
