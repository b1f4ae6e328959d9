// SPDX-License-Identifier: MIT
// Paced more for now, as in an infection: more hours a day, a higher amplitude, or both, until someone says it is over.
import type { Draft } from "../state/draft";
import { moment_of, read_wall, rfc3339 } from "../time/zone";
import { moment_words } from "../words/moments";
import type { Context, FieldOfPlace, Model } from "./context";
import { read_number } from "./reading_model";
import { ask_side, sides_of, sides_words } from "./side";
import { plan_from, when_fields, when_of } from "./when";

export const paced_more_fields: FieldOfPlace = {
  "/sides": "side", "/from": "when", "/to": "until", "/hours_per_day": "hours", "/amplitude": "amplitude", "/why": "why",
};

function hours_of(draft: Draft, errors: Record<string, string>): number | null {
  if (draft.how_long === "all_day") return 24;
  if (draft.how_long !== "hours") {
    if (draft.how_long !== "as_set") errors.how_long = "Choose how long a day.";
    return null;
  }
  const hours = read_number(draft.hours);
  if (hours === null || hours <= 0 || hours > 24) errors.hours = "Write the hours a day, up to 24.";
  return hours;
}

function amplitude_of(draft: Draft, errors: Record<string, string>): number | null {
  const amplitude = read_number(draft.amplitude);
  if ((draft.amplitude ?? "").trim() && (amplitude === null || amplitude <= 0)) errors.amplitude = "Write the amplitude as the unit shows it, or leave it empty.";
  else if (draft.how_long === "as_set" && amplitude === null) errors.amplitude = "Write the amplitude, or choose more hours.";
  return amplitude;
}

/// Null where it lasts until someone says that it is over.
function end_of(draft: Draft, context: Context, errors: Record<string, string>): Date | null {
  if ((draft.ends ?? "open") === "open") return null;
  const wall = read_wall(draft.until ?? "");
  if (!wall) errors.until = `Give the day and the time by the clock ${context.place ?? "at home"}.`;
  return wall && moment_of(wall, context.zone);
}

export function paced_more_model(draft: Draft, context: Context, now: Date): Model {
  const sides = sides_of(draft);
  const at = when_of(draft, context, now);
  const when = when_fields(at, context, now);
  const errors: Record<string, string> = { ...when.errors };
  const hours = hours_of(draft, errors);
  const amplitude = amplitude_of(draft, errors);
  const to = end_of(draft, context, errors);
  if (!sides.length) errors.side = ask_side;
  if (Object.keys(errors).length || !at) return { errors, summary: "", posts: [] };
  const from = plan_from(at, context, now);
  const more = [hours === 24 ? "all day" : hours !== null && `${hours} hours a day`, amplitude !== null && `with amplitude ${amplitude}`].filter(Boolean).join(" ");
  const why = (draft.why ?? "").trim();
  const until = to ? `until ${moment_words(to, now, context.zone)}` : "until someone says that it is over";
  return {
    errors,
    summary: `${sides_words(sides)}: paced ${more}, ${from.words}, ${until}.`,
    posts: [{
      path: "paced-more", about: "plan", sides, words: `${sides_words(sides)}: paced ${more}`,
      body: {
        from: when.at, sides, ...(hours !== null && { hours_per_day: hours }), ...(amplitude !== null && { amplitude }),
        ...(to && { to: rfc3339(to, context.zone) }), ...(why && { why }), ...from.confirmed,
      },
    }],
  };
}
