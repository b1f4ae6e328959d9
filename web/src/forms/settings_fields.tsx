// SPDX-License-Identifier: MIT
// The fields of one side's settings, for recording them and for working out what would follow from others. Nothing is
// filled in by itself; what is recorded comes in on a tap.
import type { PacedSpan, Side, Weekday } from "../api/types";
import { Fault } from "../parts/fault";
import { Choices, Input, Ticks } from "../parts/fields";
import type { Draft } from "../state/draft";
import { field, type Context, type Fields } from "./context";
import { recorded_draft } from "./settings_model";
import { most_spans, new_span, spans_of, weekdays } from "./spans";
import { tell } from "../words/catalogue/plan";

interface Props {
  form: Fields;
  prefix?: string;
}

const breaths = [
  { value: "fraction", words: tell("settings_fields.a_part_of_the_breath"), hint: tell("settings_fields.0_28_for_instance") },
  { value: "time", words: tell("settings_fields.seconds"), hint: tell("settings_fields.1_4_for_instance") },
];
const days = [
  { value: "all_day", words: tell("settings_fields.all_day") },
  { value: "spans", words: tell("settings_fields.at_these_times") },
];
const growths = [
  { value: "no", words: tell("settings_fields.stays_as_it_is") },
  { value: "yes", words: tell("settings_fields.grows_week_by_week") },
];

function Span({ name, span, error, change, remove }: { name: string; span: PacedSpan; error?: string | undefined; change: (span: PacedSpan) => void; remove?: (() => void) | undefined }) {
  const time = (end: "from" | "to", legend: string) => (
    <Input name={`${name}_${end}`} legend={legend} type="time" value={span[end]} onChange={(value) => change({ ...span, [end]: value })} />
  );
  return (
    <div class={error ? "span field wrong" : "span field"}>
      <div class="pair">
        {time("from", tell("settings_fields.from"))}
        {time("to", tell("settings_fields.to"))}
      </div>
      <Ticks name={`${name}_days`} legend={tell("settings_fields.on")} chosen={span.days} choices={weekdays} onChange={(chosen) => change({ ...span, days: chosen as Weekday[] })} />
      {error && <Fault error={error} />}
      {remove && (
        <button type="button" onClick={remove}>
          {tell("settings_fields.leave_these_times_out")}
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
            {tell("settings_fields.more_times")}
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
      <Choices {...grows} legend={tell("settings_fields.how_long_a_day")} choices={growths} />
      {grows.value === "yes" && (
        <>
          <Input {...field(form, `${prefix}minutes`)} legend={tell("settings_fields.longer_each_week_by")} keys="numeric" after={tell("settings_fields.minutes_a_day")} max_length={4} />
          <Input {...field(form, `${prefix}up_to`)} legend={tell("settings_fields.until_a_day_has")} keys="decimal" after={tell("settings_fields.hours")} max_length={5} />
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
      <Input {...field(form, `${prefix}rate`)} legend={tell("settings_fields.breaths_a_minute")} keys="decimal" max_length={5} />
      <Choices {...breath} legend={tell("settings_fields.breathing_in_is_given_as")} inline choices={breaths} />
      <Input {...field(form, `${prefix}inspiration`)} legend={breath.value === "time" ? tell("settings_fields.seconds_of_breathing_in") : tell("settings_fields.part_of_the_breath")} keys="decimal" max_length={5} />
      <Input {...field(form, `${prefix}amplitude`)} legend={tell("settings_fields.amplitude_as_the_unit_shows_it")} keys="decimal" max_length={7} />
      <Choices {...paced} legend={tell("settings_fields.this_side_paces")} inline choices={days} />
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
        {tell("settings_fields.fill_in_what_is_recorded_now", { side })}
      </button>
      {recorded.growth && <p class="small">{tell("settings_fields.its_times_have_grown_since_type")}</p>}
    </div>
  );
}
