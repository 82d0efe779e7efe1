// How the cup stood: five lines from far too little over agreement to far too much. They are empty until they are touched; what
// was not noticed stays empty.

import type { Attribute, BalanceMark } from "../gen/types.ts";
import { Button } from "../parts/button/button.tsx";
import { LineScale } from "../parts/linescale/linescale.tsx";
import * as words from "../words.ts";
import { bench } from "../words.ts";

const attributes: readonly Attribute[] = ["acid", "sweet", "bitter", "body", "finish"];

/** A line goes from 0 to 100, a mark from -1000 to 1000. */
const onLine = (mark: number) => (mark + 1000) / 20;
const ofLine = (value: number) => Math.round(value * 20 - 1000);

export function Balance({ marks, onMarks }: { marks: readonly BalanceMark[]; onMarks(marks: BalanceMark[]): void }) {
  const put = (of: Attribute, value: number | undefined) => {
    const others = marks.filter((mark) => mark.of !== of);
    onMarks(value === undefined ? others : [...others, { of, mark: ofLine(value) }]);
  };
  return (
    <section class="stack close" aria-label={bench.balance}>
      <h2>{bench.balance}</h2>
      <p class="field-hint">{bench.balanceHint}</p>
      {attributes.map((of) => {
        const found = marks.find((mark) => mark.of === of);
        return (
          <LineScale
            key={of}
            label={words.attribute[of]}
            ends={[bench.tooLittle, bench.tooMuch]}
            middle={bench.agrees}
            value={found && onLine(found.mark)}
            onValue={(value) => put(of, value)}
          />
        );
      })}
      {marks.length > 0 && (
        <Button kind="quiet" onPress={() => onMarks([])}>
          {bench.balanceClear}
        </Button>
      )}
    </section>
  );
}

/** Acid: a little too much; body: in agreement. */
export function balanceWords(marks: readonly BalanceMark[]): string {
  return attributes
    .flatMap((of) => marks.filter((mark) => mark.of === of))
    .map(({ of, mark }) => `${words.attribute[of]}: ${howFar(mark)}`)
    .join("; ");
}

function howFar(mark: number): string {
  const size = Math.abs(mark);
  if (size < 100) return bench.agrees;
  return size < 500 ? (mark < 0 ? bench.bitLittle : bench.bitMuch) : mark < 0 ? bench.tooLittle : bench.tooMuch;
}
