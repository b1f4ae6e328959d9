// SPDX-License-Identifier: MIT
// Paced less than the settings say, or switched off for a while: a fact with times, for each side its own.
import type { Draft } from "../state/draft";
import { tell } from "../words/catalogue/plan";
import { side_name } from "../words/names";
import type { Context, FieldOfPlace, Model } from "./context";
import { read_number } from "./reading_model";
import { ask_side, sides_of, sides_words } from "./side";
import { plan_from, when_fields, when_of } from "./when";

export const less_fields: FieldOfPlace = { "/side": "side", "/from": "when", "/hours_per_day": "hours" };

export function less_model(draft: Draft, context: Context, now: Date): Model {
  const sides = sides_of(draft);
  const at = when_of(draft, context, now);
  const when = when_fields(at, context, now);
  const errors: Record<string, string> = { ...when.errors };
  const hours = read_number(draft.hours);
  if (!sides.length) errors.side = ask_side;
  if (draft.how !== "fewer" && draft.how !== "off") errors.how = tell("less.choose_how");
  if (draft.how === "fewer" && (hours === null || hours < 0 || hours > 24)) errors.hours = tell("less.write_the_hours");
  if (Object.keys(errors).length || !at) return { errors, summary: "", posts: [] };
  const from = plan_from(at, context, now);
  const words = draft.how === "off" ? tell("less.switched_off") : tell("less.paced_hours", { hours });
  return {
    errors,
    summary: tell("less.summary", { sides: sides_words(sides), words, when: from.words }),
    posts: sides.map((side) => ({
      path: draft.how === "off" ? "switched-off" : "paced", about: "plan", sides: [side], words: `${side_name[side]}: ${words}`,
      body: { side, from: when.at, ...(draft.how === "fewer" && { hours_per_day: hours }), ...from.confirmed },
    })),
  };
}
