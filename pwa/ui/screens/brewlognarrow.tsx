// By what a list of brews is narrowed, and what to take away again when nothing fits.

import { useState } from "preact/hooks";
import type { CupboardView } from "../gen/types.ts";
import { useView } from "../model/core.ts";
import { formatCode } from "../model/going.ts";
import { inUse, type Narrow, type Narrowing } from "../model/narrowing.ts";
import { moments } from "../model/formats.ts";
import { fromLocalInput } from "../model/times.ts";
import { Button } from "../parts/button/button.tsx";
import { Check, Choice, MomentField, type Option } from "../parts/field/field.tsx";
import { log } from "../words.ts";

interface Props {
  narrowing: Narrowing;
  onNarrow(change: Partial<Narrowing>): void;
}

/** What may be chosen: those of the Cupboard, and what was chosen already, whatever it is. */
function useChoices(): { [name: string]: Option[] } {
  const cupboard: CupboardView | undefined = useView("cupboard").value;
  const samples = useView("bench").value?.samples ?? [];
  return {
    coffee: (cupboard?.coffees ?? []).map(({ coffee: { id, name } }) => ({ value: id, label: name })),
    brewer: (cupboard?.brewers ?? []).map(({ brewer: { id, name } }) => ({ value: id, label: name })),
    grinder: (cupboard?.grinders ?? []).map(({ grinder: { id, name } }) => ({ value: id, label: name })),
    recipe: (cupboard?.recipes ?? []).map(({ recipe: { id, title } }) => ({ value: id, label: title })),
    sample: samples.map(({ sample, code }) => ({ value: sample, label: formatCode(code) })),
  };
}

const chosen = ["coffee", "brewer", "grinder", "recipe", "sample"] as const;

export function Narrowed({ narrowing, onNarrow }: Props) {
  const [open, setOpen] = useState(false);
  const count = inUse(narrowing).filter((name) => name !== "words").length;
  return (
    <details class="fold" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{count > 0 ? log.narrowed(count) : log.narrow}</summary>
      {open && <Choices narrowing={narrowing} onNarrow={onNarrow} />}
    </details>
  );
}

/** What the Cupboard has is asked for when somebody looks at it: a search must not wait for how often each thing was used. */
function Choices({ narrowing, onNarrow }: Props) {
  const choices = useChoices();
  return (
    <div class="stack">
      <div class="fields">
        {chosen.map((name) => {
          const options = choices[name] ?? [];
          const value = narrowing[name];
          const odd = value && !options.some((option) => option.value === value) ? [{ value, label: log[name] }] : [];
          if (options.length + odd.length === 0) return null;
          return <Choice key={name} label={log[name]} options={[{ value: "", label: log.any }, ...odd, ...options]} value={value} onValue={(next) => onNarrow({ [name]: next })} />;
        })}
        <MomentField day label={log.from} value={narrowing.from} onValue={(from) => onNarrow({ from })} />
        <MomentField day label={log.until} value={narrowing.until} onValue={(until) => onNarrow({ until })} />
      </div>
      <div>
        <Check label={log.measured} checked={narrowing.measured} onChecked={(measured) => onNarrow({ measured })} />
        <Check label={log.bowls} checked={narrowing.bowls} onChecked={(bowls) => onNarrow({ bowls })} />
      </div>
    </div>
  );
}

const lower = (text: string) => text[0]!.toLowerCase() + text.slice(1);

/** Nothing fits: each of what was asked for can be taken away by itself. */
export function Loosen({ narrowing, onNarrow, onAll }: Props & { onAll(): void }) {
  const choices = useChoices();
  const used = inUse(narrowing);
  const named = (name: Narrow): string => {
    const value = narrowing[name];
    if (name === "words") return `“${String(value)}”`;
    if (value === true) return lower(log[name]);
    if (name === "from" || name === "until") return `${lower(log[name])} ${moments({ dateStyle: "medium" }).format(fromLocalInput(`${String(value)}T00:00`) ?? 0)}`;
    return choices[name]?.find((option) => option.value === value)?.label ?? lower(log[name]);
  };
  return (
    <section class="stack close">
      <p>{log.loosen}</p>
      <div class="brewlog-loosen">
        {used.map((name) => (
          <Button key={name} onPress={() => onNarrow({ [name]: typeof narrowing[name] === "boolean" ? false : "" })}>
            {log.without(named(name))}
          </Button>
        ))}
        {used.length > 1 && <Button onPress={onAll}>{log.withoutAll}</Button>}
      </div>
    </section>
  );
}
