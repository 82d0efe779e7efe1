// Any of many.

import { Check } from "../field/field.tsx";

interface Props<T extends string> {
  label: string;
  codes: readonly T[];
  names: { [code in T]: string };
  chosen: readonly T[];
  onFlip(code: T): void;
}

export function Checks<T extends string>({ label, codes, names, chosen, onFlip }: Props<T>) {
  return (
    <fieldset class="checks">
      <legend>{label}</legend>
      {codes.map((code) => (
        <Check key={code} label={names[code]} checked={chosen.includes(code)} onChecked={() => onFlip(code)} />
      ))}
    </fieldset>
  );
}

export const flip = <T extends string>(list: readonly T[], code: T): T[] => (list.includes(code) ? list.filter((each) => each !== code) : [...list, code]);
