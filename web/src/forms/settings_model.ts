// SPDX-License-Identifier: MIT
// Settings of one side, as the clinician gave them: nothing here suggests a value or judges one. A form may hold the
// settings of both sides: `prefix` keeps the names of their fields apart.
import type { Settings } from "../api/types";
import type { Draft } from "../state/draft";
import { side_name } from "../words/names";
import type { Context, FieldOfPlace, Model } from "./context";
import { read_number } from "./reading_model";
import { ask_side, sides_of } from "./side";
import { most_spans, span_error, spans_of, spans_words, to_send, to_type } from "./spans";
import { plan_from, when_fields, when_of } from "./when";
import { tell } from "../words/catalogue/plan";

export interface TypedSettings {
  body: Record<string, unknown>;
  words: string;
  errors: Record<string, string>;
}

/// From the places of one settings document, found at `root`, to the fields of its group.
export function settings_fields(prefix = "", root = ""): FieldOfPlace {
  const fields: FieldOfPlace = {
    "/rate_per_min": "rate", "/inspiratory_fraction": "inspiration", "/inspiratory_time_s": "inspiration", "/amplitude": "amplitude",
    "/paced": "paced", "/growth": "minutes", "/growth/minutes_per_week": "minutes", "/growth/up_to_hours": "up_to",
  };
  for (let index = 0; index < most_spans; index++) fields[`/paced/${index}`] = `span_${index}`;
  return Object.fromEntries(Object.entries(fields).map(([place, name]) => [root + place, prefix + name]));
}

export const settings_form_fields: FieldOfPlace = { ...settings_fields(), "/side": "side", "/from": "when" };

const within = (value: number | null, least: number, most: number): value is number => value !== null && value >= least && value <= most;

/// "All day", or at least one span that is whole.
function typed_spans(draft: Draft, prefix: string, errors: Record<string, string>) {
  const how = draft[`${prefix}paced`];
  if (how === "all_day") return [];
  if (how !== "spans") errors[`${prefix}paced`] = tell("settings_model.choose_when_this_side_paces");
  const spans = spans_of(draft[`${prefix}spans`]);
  spans.forEach((span, index) => {
    const wrong = how === "spans" && span_error(span);
    if (wrong) errors[`${prefix}span_${index}`] = wrong;
  });
  return spans;
}

function typed_growth(draft: Draft, prefix: string, errors: Record<string, string>) {
  if (draft[`${prefix}paced`] !== "spans" || draft[`${prefix}grows`] !== "yes") return null;
  const minutes = read_number(draft[`${prefix}minutes`]);
  const hours = read_number(draft[`${prefix}up_to`]);
  if (!within(minutes, 1, 1440) || !Number.isInteger(minutes)) errors[`${prefix}minutes`] = tell("settings_model.write_whole_minutes_from_1_to");
  if (!within(hours, 0.1, 24)) errors[`${prefix}up_to`] = tell("settings_model.write_the_hours_a_day_at");
  return { minutes_per_week: minutes ?? 0, up_to_hours: hours ?? 0 };
}

export function typed_settings(draft: Draft, prefix = ""): TypedSettings {
  const errors: Record<string, string> = {};
  const rate = read_number(draft[`${prefix}rate`]);
  const inspiration = read_number(draft[`${prefix}inspiration`]);
  const amplitude = read_number(draft[`${prefix}amplitude`]);
  const as_time = draft[`${prefix}breath`] === "time";
  if (!within(rate, 1, 60)) errors[`${prefix}rate`] = tell("settings_model.write_the_breaths_a_minute_from");
  if (as_time && !within(inspiration, 0.05, 60)) errors[`${prefix}inspiration`] = tell("settings_model.write_the_seconds_of_breathing_in");
  if (!as_time && !within(inspiration, 0.05, 0.95)) errors[`${prefix}inspiration`] = tell("settings_model.write_a_part_of_the_breath");
  if (!within(amplitude, 0.001, 1000)) errors[`${prefix}amplitude`] = tell("settings_model.write_the_amplitude_as_the_unit");
  const spans = typed_spans(draft, prefix, errors);
  const growth = typed_growth(draft, prefix, errors);
  const grows = growth ? tell("settings_model.minutes_longer_each_week_until_hours", { minutes_per_week: growth.minutes_per_week, up_to_hours: growth.up_to_hours }) : "";
  return {
    errors,
    words: tell("settings_model.breaths_a_minute_amplitude", { rate, value: as_time ? tell("settings_model.s_of_breathing_in", { inspiration }) : tell("settings_model.breathing_in_for_of_the_breath", { inspiration }), amplitude, spans: spans_words(spans), grows }),
    body: {
      rate_per_min: rate, ...(as_time ? { inspiratory_time_s: inspiration } : { inspiratory_fraction: inspiration }), amplitude,
      paced: spans.map(to_send), ...(growth && { growth }),
    },
  };
}

/// What is recorded now, as if it were typed in. Spans that have grown since are left open: nobody typed in how they are.
export function recorded_draft({ rate_per_min, inspiratory_fraction, amplitude, paced, growth }: Settings, prefix = ""): Draft {
  const spans: Draft = growth ? {} : { spans: JSON.stringify(paced.length ? paced.map(to_type) : []) };
  const typed: Draft = {
    rate: String(rate_per_min), breath: "fraction", inspiration: String(inspiratory_fraction), amplitude: String(amplitude),
    paced: paced.length ? "spans" : "all_day", ...(paced.length ? spans : {}),
  };
  return Object.fromEntries(Object.entries(typed).map(([name, value]) => [prefix + name, value]));
}

export function settings_model(draft: Draft, context: Context, now: Date): Model {
  const [side] = draft.side === "both" ? [] : sides_of(draft);
  const at = when_of(draft, context, now);
  const typed = typed_settings(draft);
  const errors = { ...when_fields(at, context, now).errors, ...typed.errors };
  if (!side) errors.side = ask_side;
  if (Object.keys(errors).length || !at || !side) return { errors, summary: "", posts: [] };
  const from = plan_from(at, context, now);
  return {
    errors,
    summary: `${side_name[side]}: ${typed.words}; ${from.words}.`,
    posts: [{
      path: "settings", about: "plan", sides: [side], words: tell("settings_model.new_settings", { side: side_name[side], words: from.words }),
      body: { from: when_fields(at, context, now).at, side, ...typed.body, ...from.confirmed },
    }],
  };
}
