// SPDX-License-Identifier: MIT
// The fields of one side's settings, for recording them and for working out what would follow from others. Nothing is
// filled in by itself; what is recorded comes in on a tap.
import type { PacedSpan, Side, Weekday } from "../api/types";
import { Choices, Input, Ticks } from "../parts/fields";
import type { Draft } from "../state/draft";
import { field, type Context, type Fields } from "./context";
import { recorded_draft } from "./settings_model";
import { most_spans, new_span, spans_of, weekdays } from "./spans";

interface Props {
  form: Fields;
  prefix?: string;
}

const breaths = [
  { value: "fraction", words: "A part of the breath", hint: "0.28, for instance" },
  { value: "time", words: "Seconds", hint: "1.4, for instance" },
];
const days = [
  { value: "all_day", words: "All day" },
  { value: "spans", words: "At these times" },
];
const growths = [
  { value: "no", words: "Stays as it is" },
  { value: "yes", words: "Grows week by week" },
];

function Span({ name, span, error, change, remove }: { name: string; span: PacedSpan; error?: string | undefined; change: (span: PacedSpan) => void; remove?: (() => void) | undefined }) {
  const time = (end: "from" | "to", legend: string) => (
    <Input name={`${name}_${end}`} legend={legend} type="time" value={span[end]} onChange={(value) => change({ ...span, [end]: value })} />
  );
  return (
    <div class={error ? "span field wrong" : "span field"}>
      <div class="pair">
        {time("from", "From")}
        {time("to", "To")}
      </div>
      <Ticks name={`${name}_days`} legend="On" chosen={span.days} choices={weekdays} onChange={(chosen) => change({ ...span, days: chosen as Weekday[] })} />
      {error && <p class="error">{error}</p>}
      {remove && (
        <button type="button" onClick={remove}>
          Leave these times out
        </button>
      )}
    </div>
  );
}

function Spans({ form, prefix = "" }: Props) {
  const name = `${prefix}spans`;
  const spans = spans_of(form.draft[name]);
  const keep = (next: PacedSpan[]): void => form.change({ [name]: JSON.stringify(next) });
  return (
    <>
      {spans.map((span, index) => (
        <Span
          key={index} name={`${prefix}span_${index}`} span={span} error={form.errors[`${prefix}span_${index}`]}
          change={(one) => keep(spans.map((old, at) => (at === index ? one : old)))}
          remove={spans.length > 1 ? () => keep(spans.filter((_, at) => at !== index)) : undefined}
        />
      ))}
      {spans.length < most_spans && (
        <div class="field">
          <button type="button" onClick={() => keep([...spans, new_span])}>
            More times
          </button>
        </div>
      )}
    </>
  );
}

function Growth({ form, prefix = "" }: Props) {
  const grows = field(form, `${prefix}grows`, "no");
  return (
    <>
      <Choices {...grows} legend="How long a day" choices={growths} />
      {grows.value === "yes" && (
        <>
          <Input {...field(form, `${prefix}minutes`)} legend="Longer each week by" keys="numeric" after="minutes a day" max_length={4} />
          <Input {...field(form, `${prefix}up_to`)} legend="Until a day has" keys="decimal" after="hours" max_length={5} />
        </>
      )}
    </>
  );
}

export function SettingsFields({ form, prefix = "" }: Props) {
  const breath = field(form, `${prefix}breath`, "fraction");
  const paced = field(form, `${prefix}paced`);
  return (
    <>
      <Input {...field(form, `${prefix}rate`)} legend="Breaths a minute" keys="decimal" max_length={5} />
      <Choices {...breath} legend="Breathing in is given as" inline choices={breaths} />
      <Input {...field(form, `${prefix}inspiration`)} legend={breath.value === "time" ? "Seconds of breathing in" : "Part of the breath"} keys="decimal" max_length={5} />
      <Input {...field(form, `${prefix}amplitude`)} legend="Amplitude, as the unit shows it" keys="decimal" max_length={7} />
      <Choices {...paced} legend="This side paces" inline choices={days} />
      {paced.value === "spans" && (
        <>
          <Spans form={form} prefix={prefix} />
          <Growth form={form} prefix={prefix} />
        </>
      )}
    </>
  );
}

export function FillIn({ side, context, change, prefix = "" }: { side: Side | undefined; context: Context; change: (part: Draft) => void; prefix?: string }) {
  const recorded = side && context.household?.settings?.[side];
  if (!recorded) return null;
  return (
    <div class="field">
      <button type="button" class="wide" onClick={() => change(recorded_draft(recorded, prefix))}>
        {`Fill in what is recorded now for the ${side} side`}
      </button>
      {recorded.growth && <p class="small">Its times have grown since: type in how they are now.</p>}
    </div>
  );
}
