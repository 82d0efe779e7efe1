// Fields. The label stands above, the unit inside at the end, the error right below in words; nothing is cleared because
// it was wrong. A decimal comma is a decimal point. What is impossible is an error; what is surprising is a question.

import { useEffect, useId, useRef, useState } from "preact/hooks";
import type { ComponentChildren } from "preact";
import { editNumber, readNumber, type Range } from "../../model/numbers.ts";
import { formatClock, parseDuration } from "../../model/times.ts";
import * as words from "../../words.ts";
import "./field.css";

interface Frame {
  label: string;
  hint?: ComponentChildren;
  error?: string | undefined;
  question?: string | undefined;
  unit?: string | undefined;
  wet?: boolean;
}

interface Wiring {
  id: string;
  "aria-invalid": boolean | undefined;
  "aria-describedby": string | undefined;
}

/** What is read out with a field: its hint, and what is wrong or asked. */
const described = (id: string, hint: ComponentChildren, note: string | undefined) =>
  [hint ? `${id}-hint` : "", note ? `${id}-note` : ""].filter(Boolean).join(" ") || undefined;

function FieldFrame({ label, hint, error, question, unit, wet, children }: Frame & { children: (wiring: Wiring) => ComponentChildren }) {
  const id = useId();
  const note = error ?? question;
  return (
    <div class={`field${error ? " wrong" : ""}${wet ? " wet" : ""}`}>
      <label for={id}>{label}</label>
      {hint && (
        <p class="field-hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <div class="field-box">
        {children({ id, "aria-invalid": error ? true : undefined, "aria-describedby": described(id, hint, note) })}
        {unit && <span class="field-unit">{unit}</span>}
      </div>
      <p class="field-note" id={`${id}-note`} role="status">
        {note ?? ""}
      </p>
    </div>
  );
}

interface TextProps {
  label: string;
  hint?: ComponentChildren;
  value: string;
  onValue(value: string): void;
  error?: string | undefined;
  required?: boolean;
  rows?: number;
  maxLength?: number;
  autocomplete?: string;
  capitals?: "none" | "words" | "sentences" | "characters";
  suggestions?: readonly string[];
  focus?: boolean;
  wet?: boolean;
  onBlur?(): void;
}

export function TextField(props: TextProps) {
  const list = useId();
  const input = useFocus(props.focus);
  return (
    <FieldFrame label={props.label} hint={props.hint} error={props.error} wet={props.wet ?? false}>
      {(wiring) => {
        const common = {
          ...wiring,
          dir: "auto" as const,
          value: props.value,
          required: props.required,
          maxLength: props.maxLength ?? 2000,
          autocapitalize: props.capitals ?? "sentences",
          onBlur: props.onBlur,
        };
        if (props.rows) {
          return <textarea {...common} rows={props.rows} onInput={(event) => props.onValue(event.currentTarget.value)} />;
        }
        return (
          <>
            <input
              {...common}
              ref={input}
              type="text"
              autocomplete={props.autocomplete ?? "off"}
              list={props.suggestions ? list : undefined}
              onInput={(event) => props.onValue(event.currentTarget.value)}
            />
            {props.suggestions && (
              <datalist id={list}>
                {props.suggestions.map((text) => (
                  <option key={text} value={text} />
                ))}
              </datalist>
            )}
          </>
        );
      }}
    </FieldFrame>
  );
}

function useFocus(wanted: boolean | undefined) {
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => {
    if (wanted) input.current?.focus();
  }, []);
  return input;
}

interface NumberProps {
  label: string;
  hint?: ComponentChildren;
  range: Range;
  value: number | undefined;
  /** undefined when the field is empty, NaN when it holds something that is not allowed. */
  onValue(value: number | undefined): void;
  /** What the core said about it. */
  error?: string | undefined;
  required?: boolean;
  wet?: boolean;
  /** Another unit instead of the range's. */
  unit?: string;
}

export function NumberField({ label, hint, range, value, onValue, error, wet, unit }: NumberProps) {
  return (
    <TypedField
      label={label}
      hint={hint}
      unit={unit ?? range.unit}
      wet={wet}
      value={value}
      show={editNumber}
      read={(text) => readNumber(text, range)}
      onValue={onValue}
      error={error}
    />
  );
}

interface DurationProps {
  label: string;
  hint?: ComponentChildren;
  /** Seconds. */
  value: number | undefined;
  onValue(seconds: number | undefined): void;
  error?: string | undefined;
  wet?: boolean;
}

export function DurationField({ label, hint, value, onValue, error, wet }: DurationProps) {
  const read = (text: string) => {
    const seconds = parseDuration(text);
    return Number.isNaN(seconds) ? { error: words.field.notADuration } : { value: seconds };
  };
  return (
    <TypedField
      label={label}
      hint={hint}
      unit={words.units.clock}
      wet={wet}
      value={value}
      show={(seconds) => (seconds === undefined ? "" : formatClock(seconds * 1000))}
      read={read}
      onValue={onValue}
      error={error}
    />
  );
}

interface TypedProps {
  label: string;
  hint?: ComponentChildren;
  unit: string | undefined;
  wet: boolean | undefined;
  value: number | undefined;
  show(value: number | undefined): string;
  read(text: string): { value?: number | undefined; error?: string | undefined; question?: string | undefined };
  onValue(value: number | undefined): void;
  error: string | undefined;
}

/** Keeps what was typed while it is being typed; shows its error once the person has left the field. */
function TypedField({ label, hint, unit, wet, value, show, read, onValue, error }: TypedProps) {
  const [text, setText] = useState(show(value));
  const [busy, setBusy] = useState(false);
  const reading = read(text);
  useEffect(() => {
    // a value that came from elsewhere replaces the text; the person's own typing does not
    if (!busy && !Object.is(reading.value, value) && !Number.isNaN(value)) setText(show(value));
  }, [value]);
  const type = (next: string) => {
    setText(next);
    const { value: typed, error: wrong } = read(next);
    onValue(wrong ? NaN : typed);
  };
  return (
    <FieldFrame label={label} hint={hint} unit={unit} wet={wet ?? false} error={busy ? undefined : (reading.error ?? error)} question={busy ? undefined : reading.question}>
      {(wiring) => (
        <input
          {...wiring}
          type="text"
          inputMode={unit === words.units.clock ? "text" : "decimal"}
          autocomplete="off"
          value={text}
          onFocus={() => setBusy(true)}
          onBlur={() => setBusy(false)}
          onInput={(event) => type(event.currentTarget.value)}
        />
      )}
    </FieldFrame>
  );
}

export interface Option {
  value: string;
  label: string;
}

interface ChoiceProps {
  label: string;
  hint?: ComponentChildren;
  options: readonly Option[];
  value: string;
  onValue(value: string): void;
  error?: string | undefined;
}

/** One of many, as the browser's own list. */
export function Choice({ label, hint, options, value, onValue, error }: ChoiceProps) {
  return (
    <FieldFrame label={label} hint={hint} error={error}>
      {(wiring) => (
        <select {...wiring} value={value} onChange={(event) => onValue(event.currentTarget.value)}>
          {options.map((option) => (
            <option key={option.value} value={option.value}>
              {option.label}
            </option>
          ))}
        </select>
      )}
    </FieldFrame>
  );
}

/** One of few, all in sight. */
export function Pick({ label, hint, options, value, onValue, error }: ChoiceProps) {
  const name = useId();
  return (
    <fieldset class={`field pick${error ? " wrong" : ""}`} aria-describedby={described(name, hint, error)}>
      <legend>{label}</legend>
      {hint && (
        <p class="field-hint" id={`${name}-hint`}>
          {hint}
        </p>
      )}
      <div class="pick-row">
        {options.map((option) => (
          <label key={option.value} class="pick-one">
            <input type="radio" name={name} checked={option.value === value} onChange={() => onValue(option.value)} />
            <span>{option.label}</span>
          </label>
        ))}
      </div>
      <p class="field-note" id={`${name}-note`} role="status">
        {error ?? ""}
      </p>
    </fieldset>
  );
}

interface CheckProps {
  label: ComponentChildren;
  checked: boolean;
  onChecked(checked: boolean): void;
}

export function Check({ label, checked, onChecked }: CheckProps) {
  return (
    <label class="check">
      <input type="checkbox" checked={checked} onChange={(event) => onChecked(event.currentTarget.checked)} />
      <span>{label}</span>
    </label>
  );
}

interface MomentProps {
  label: string;
  hint?: ComponentChildren;
  /** As an input of type datetime-local has it, or of type date. */
  value: string;
  onValue(value: string): void;
  error?: string | undefined;
  /** A day without a time. */
  day?: boolean;
}

export function MomentField({ label, hint, value, onValue, error, day }: MomentProps) {
  return (
    <FieldFrame label={label} hint={hint} error={error}>
      {(wiring) => <input {...wiring} type={day ? "date" : "datetime-local"} value={value} onInput={(event) => onValue(event.currentTarget.value)} />}
    </FieldFrame>
  );
}
