// A weight or a temperature, typed in the person's unit; outside it is grams and °C.

import type { ComponentChildren } from "preact";
import type { Range } from "../../model/numbers.ts";
import { rangeIn, shownIn, temperature, weight, type Unit } from "../../model/units.ts";
import { NumberField } from "../field/field.tsx";

interface Props {
  label: string;
  hint?: ComponentChildren;
  /** In grams, or °C. */
  range: Range;
  value: number | undefined;
  onValue(value: number | undefined): void;
  error?: string | undefined;
  wet?: boolean;
}

export const WeightField = (props: Props) => <InUnit {...props} unit={weight.value} />;

export const TemperatureField = (props: Props) => <InUnit {...props} unit={temperature.value} />;

function InUnit({ unit, range, value, onValue, ...rest }: Props & { unit: Unit }) {
  return (
    <NumberField
      key={unit.name}
      {...rest}
      range={rangeIn(unit, range)}
      value={value === undefined ? undefined : shownIn(unit, value)}
      onValue={(typed) => onValue(typed === undefined ? undefined : unit.take(typed))}
    />
  );
}
