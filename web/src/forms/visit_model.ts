// SPDX-License-Identifier: MIT
// A visit that wants fresh cells: the change comes at the last changing time before it.
import type { Draft } from "../state/draft";
import { moment_of, read_wall, rfc3339 } from "../time/zone";
import { moment_words } from "../words/moments";
import type { Context, FieldOfPlace, Model } from "./context";
import { ask_side, sides_of, sides_words } from "./side";
import { tell } from "../words/catalogue/plan";

export const visit_fields: FieldOfPlace = { "/sides": "side", "/at": "visit_at", "/note": "note" };

export function visit_model(draft: Draft, context: Context, now: Date): Model {
  const sides = sides_of(draft);
  const wall = read_wall(draft.visit_at ?? "");
  const errors: Record<string, string> = {};
  if (!sides.length) errors.side = ask_side;
  if (!wall) errors.visit_at = tell("visit_model.give_the_day_and_the_time", { value: context.place ?? tell("visit_model.at_home") });
  if (Object.keys(errors).length || !wall) return { errors, summary: "", posts: [] };
  const at = moment_of(wall, context.zone);
  const note = (draft.note ?? "").trim();
  const words = tell("visit_model.fresh_cells_for_a_visit", { sides: sides_words(sides), moment: moment_words(at, now, context.zone) });
  return {
    errors,
    summary: `${words}.`,
    posts: [{ path: "visits", about: "plan", sides, words, body: { at: rfc3339(at, context.zone), sides, ...(note && { note }) } }],
  };
}
