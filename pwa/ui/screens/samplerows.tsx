// The club's samples that one has, to brew: those that are sealed in sight, those that are open folded below.

import type { SampleChoice } from "../gen/types.ts";
import { formatCode } from "../model/going.ts";
import { formatWeight } from "../model/units.ts";
import { SealMark } from "../parts/envelope/envelope.tsx";
import { OnwardIcon } from "../parts/icons/icons.tsx";
import { paths } from "../paths.ts";
import { bench } from "../words.ts";

export function SampleRows({ samples }: { samples: readonly SampleChoice[] }) {
  const opened = samples.filter((sample) => sample.opened);
  return (
    <>
      <Rows samples={samples.filter((sample) => !sample.opened)} />
      {opened.length > 0 && (
        <details class="fold">
          <summary>{bench.opened(opened.length)}</summary>
          <Rows samples={opened} />
        </details>
      )}
    </>
  );
}

function Rows({ samples }: { samples: readonly SampleChoice[] }) {
  if (samples.length === 0) return null;
  return (
    <ul class="list">
      {samples.map((sample) => (
        <li key={sample.sample}>
          <a class="list-row" href={paths.brewOf(sample.club, sample.sample)}>
            <SealMark open={sample.opened} />
            <span class="grow">
              <strong>{bench.newOf(formatCode(sample.code))}</strong>
              <br />
              <span class="small soft">
                {sample.title}, {bench.left(formatWeight(sample.left))}
              </span>
            </span>
            <OnwardIcon />
          </a>
        </li>
      ))}
    </ul>
  );
}
