// SPDX-License-Identifier: MIT
// The fields of the forms. Every field shows its own error under itself and says it to a screen reader.
import type { JSX } from "preact";
import { Fault } from "./fault";
import { tell } from "../words/catalogue/first";

export interface Choice {
  value: string;
  words: string;
  hint?: string | undefined;
}

interface Common {
  name: string;
  legend: string;
  value: string;
  error?: string | undefined;
  onChange: (value: string) => void;
}

function FieldError({ name, error }: { name: string; error?: string | undefined }) {
  return error ? <Fault error={error} id={`${name}-error`} /> : null;
}

interface ChoicesProps extends Common {
  choices: readonly Choice[];
  /// Short answers stand beside each other where there is room.
  inline?: boolean;
}

export function Choices({ name, legend, value, error, onChange, choices, inline = false }: ChoicesProps) {
  return (
    <fieldset class={error ? "field wrong" : "field"} id={`field-${name}`} aria-describedby={error ? `${name}-error` : undefined}>
      <legend>{legend}</legend>
      <div class={inline ? "choices inline" : "choices"}>
        {choices.map((choice) => (
          <label class="choice" key={choice.value}>
            <input
              type="radio" name={name} value={choice.value} checked={value === choice.value}
              onChange={() => onChange(choice.value)}
            />
            <span>
              {choice.words}
              {choice.hint && <small>{choice.hint}</small>}
            </span>
          </label>
        ))}
      </div>
      <FieldError name={name} error={error} />
    </fieldset>
  );
}

interface InputProps extends Common {
  type?: string;
  keys?: JSX.HTMLAttributes["inputMode"];
  after?: string;
  max_length?: number;
}

export function Input({ name, legend, value, error, onChange, type = "text", keys, after, max_length }: InputProps) {
  return (
    <div class={error ? "field wrong" : "field"} id={`field-${name}`}>
      <label for={`input-${name}`}>{legend}</label>
      <div class="with-unit">
        <input
          id={`input-${name}`} name={name} type={type} value={value} inputMode={keys} autocomplete="off" maxLength={max_length}
          aria-invalid={Boolean(error)} aria-describedby={error ? `${name}-error` : undefined}
          onInput={(event) => onChange(event.currentTarget.value)}
        />
        {after && <span>{after}</span>}
      </div>
      <FieldError name={name} error={error} />
    </div>
  );
}

interface TicksProps {
  name: string;
  legend: string;
  chosen: readonly string[];
  choices: readonly Choice[];
  onChange: (chosen: string[]) => void;
}

/// Any number of them may be chosen.
export function Ticks({ name, legend, chosen, choices, onChange }: TicksProps) {
  const turned = (value: string): string[] => choices.map((one) => one.value).filter((one) => (one === value) !== chosen.includes(one));
  return (
    <fieldset class="field" id={`field-${name}`}>
      <legend>{legend}</legend>
      <div class="choices ticks">
        {choices.map(({ value, words }) => (
          <label class="choice" key={value}>
            <input type="checkbox" name={name} value={value} checked={chosen.includes(value)} onChange={() => onChange(turned(value))} />
            <span>{words}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

/// One of many.
export function Select({ name, legend, value, error, onChange, choices }: Common & { choices: readonly Choice[] }) {
  return (
    <div class={error ? "field wrong" : "field"} id={`field-${name}`}>
      <label for={`input-${name}`}>{legend}</label>
      <div class="with-unit">
        <select
          id={`input-${name}`} name={name} value={value} aria-invalid={Boolean(error)} aria-describedby={error ? `${name}-error` : undefined}
          onChange={(event) => onChange(event.currentTarget.value)}
        >
          {[{ value: "", words: tell("fields.choose") }, ...choices].map((choice) => (
            <option key={choice.value} value={choice.value}>
              {choice.words}
            </option>
          ))}
        </select>
      </div>
      <FieldError name={name} error={error} />
    </div>
  );
}
