// SPDX-License-Identifier: MIT
// Paced more for now, as in an infection: more hours a day, a higher amplitude, or both, until someone says it is over.
import type { Draft } from "../state/draft";
import { moment_of, read_wall, rfc3339 } from "../time/zone";
import { moment_words } from "../words/moments";
import type { Context, FieldOfPlace, Model } from "./context";
import { read_number } from "./reading_model";
import { ask_side, sides_of, sides_words } from "./side";
import { plan_from, when_fields, when_of } from "./when";
import { tell } from "../words/catalogue/plan";

export const paced_more_fields: FieldOfPlace = {
  "/sides": "side", "/from": "when", "/to": "until", "/hours_per_day": "hours", "/amplitude": "amplitude", "/why": "why",
};

function hours_of(draft: Draft, errors: Record<string, string>): number | null {
  if (draft.how_long === "all_day") return 24;
  if (draft.how_long !== "hours") {
    if (draft.how_long !== "as_set") errors.how_long = tell("paced_more_model.choose_how_long_a_day");
    return null;
  }
  const hours = read_number(draft.hours);
  if (hours === null || hours <= 0 || hours > 24) errors.hours = tell("paced_more_model.write_the_hours_a_day_up");
  return hours;
}

function amplitude_of(draft: Draft, errors: Record<string, string>): number | null {
  const amplitude = read_number(draft.amplitude);
  if ((draft.amplitude ?? "").trim() && (amplitude === null || amplitude <= 0)) errors.amplitude = tell("paced_more_model.write_the_amplitude_as_the_unit");
  else if (draft.how_long === "as_set" && amplitude === null) errors.amplitude = tell("paced_more_model.write_the_amplitude_or_choose_more");
  return amplitude;
}

/// Null where it lasts until someone says that it is over.
function end_of(draft: Draft, context: Context, errors: Record<string, string>): Date | null {
  if ((draft.ends ?? "open") === "open") return null;
  const wall = read_wall(draft.until ?? "");
  if (!wall) errors.until = tell("paced_more_model.give_the_day_and_the_time", { value: context.place ?? tell("paced_more_model.at_home") });
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
  const more = [hours === 24 ? tell("paced_more_model.all_day") : hours !== null && tell("paced_more_model.hours_a_day", { hours }), amplitude !== null && tell("paced_more_model.with_amplitude", { amplitude })].filter(Boolean).join(" ");
  const why = draft.mains === "none" ? tell("paced_more_model.no_mains") : (draft.why ?? "").trim();
  const until = to ? tell("paced_more_model.until", { moment: moment_words(to, now, context.zone) }) : tell("paced_more_model.until_someone_says_that_it_is");
  return {
    errors,
    summary: tell("paced_more_model.paced", { sides: sides_words(sides), more, words: from.words, until }),
    posts: [{
      path: "paced-more", about: "plan", sides, words: tell("paced_more_model.paced_2", { sides: sides_words(sides), more }),
      body: {
        from: when.at, sides, ...(hours !== null && { hours_per_day: hours }), ...(amplitude !== null && { amplitude }),
        ...(to && { to: rfc3339(to, context.zone) }), ...(why && { why }), ...from.confirmed,
      },
    }],
  };
}
