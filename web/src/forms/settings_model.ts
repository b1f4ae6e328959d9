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
  if (how !== "spans") errors[`${prefix}paced`] = "Choose when this side paces.";
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
  if (!within(minutes, 1, 1440) || !Number.isInteger(minutes)) errors[`${prefix}minutes`] = "Write whole minutes, from 1 to 1440.";
  if (!within(hours, 0.1, 24)) errors[`${prefix}up_to`] = "Write the hours a day at which it stops growing, up to 24.";
  return { minutes_per_week: minutes ?? 0, up_to_hours: hours ?? 0 };
}

export function typed_settings(draft: Draft, prefix = ""): TypedSettings {
  const errors: Record<string, string> = {};
  const rate = read_number(draft[`${prefix}rate`]);
  const inspiration = read_number(draft[`${prefix}inspiration`]);
  const amplitude = read_number(draft[`${prefix}amplitude`]);
  const as_time = draft[`${prefix}breath`] === "time";
  if (!within(rate, 1, 60)) errors[`${prefix}rate`] = "Write the breaths a minute, from 1 to 60.";
  if (as_time && !within(inspiration, 0.05, 60)) errors[`${prefix}inspiration`] = "Write the seconds of breathing in.";
  if (!as_time && !within(inspiration, 0.05, 0.95)) errors[`${prefix}inspiration`] = "Write a part of the breath, from 0.05 to 0.95.";
  if (!within(amplitude, 0.001, 1000)) errors[`${prefix}amplitude`] = "Write the amplitude as the unit shows it.";
  const spans = typed_spans(draft, prefix, errors);
  const growth = typed_growth(draft, prefix, errors);
  const grows = growth ? `, ${growth.minutes_per_week} minutes longer each week until ${growth.up_to_hours} hours a day` : "";
  return {
    errors,
    words: `${rate} breaths a minute, ${as_time ? `${inspiration} s of breathing in` : `breathing in for ${inspiration} of the breath`}, amplitude ${amplitude}, ${spans_words(spans)}${grows}`,
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
      path: "settings", about: "plan", sides: [side], words: `${side_name[side]}: new settings ${from.words}`,
      body: { from: when_fields(at, context, now).at, side, ...typed.body, ...from.confirmed },
    }],
  };
}
