// SPDX-License-Identifier: MIT
// Back home from hospital: which cells, settings and unit. Not knowing is an answer, and what is not answered is not
// known; what follows from it is the service's to say.
import { both_sides, type Side } from "../api/types";
import type { Draft } from "../state/draft";
import { rfc3339, moment_of, read_wall } from "../time/zone";
import { lot_words } from "../words/names";
import { cell_lots, family_profile, lot_value } from "./change_model";
import type { Context, FieldOfPlace, Model } from "./context";
import { when_fields, when_of } from "./when";
import { tell } from "../words/catalogue/plan";

export const back_home_fields: FieldOfPlace = {
  "/at": "when", "/settings": "settings", "/unit": "unit", "/unit_used": "unit_used",
  "/cells/left": "left_are", "/cells/left/changed_at": "left_at", "/cells/right": "right_are", "/cells/right/changed_at": "right_at",
};

const since_words: Record<string, string> = { as_before: tell("back_home_model.as_before"), changed: tell("back_home_model.changed"), dont_know: tell("back_home_model.not_known") };
const used_words: Record<string, string> = { yes: tell("back_home_model.used_in_hospital"), no: tell("back_home_model.not_used_in_hospital"), dont_know: tell("back_home_model.perhaps_used_in_hospital") };

/// Which fresh cells went in, as far as it is known.
function fresh_cells(draft: Draft, side: Side, context: Context): { body: Record<string, unknown>; words: string } {
  const which = draft[`${side}_which`];
  const lot = cell_lots(context).find((one) => lot_value(one) === which);
  if (lot) {
    const { lot: number, expires, profile } = lot;
    return { body: { ...(profile && { profile }), ...(number && { lot: number }), ...(expires && { expires }), from_stock: true }, words: tell("back_home_model.fresh", { lot: lot_words(lot.lot) }) };
  }
  if (which === "alkaline") return { body: { profile: family_profile(context.household) }, words: tell("back_home_model.fresh_alkaline") };
  return { body: {}, words: tell("back_home_model.fresh_of_a_type_that_is") };
}

function found(draft: Draft, side: Side, context: Context, errors: Record<string, string>): { body: Record<string, unknown>; words: string } {
  const are = draft[`${side}_are`];
  if (are !== "fresh") return { body: { are: are ?? "dont_know" }, words: are === "as_before" ? tell("back_home_model.as_before") : tell("back_home_model.not_known") };
  const fresh = fresh_cells(draft, side, context);
  const typed = draft[`${side}_at`];
  const wall = typed ? read_wall(typed) : null;
  if (typed && !wall) errors[`${side}_at`] = tell("back_home_model.give_the_day_and_the_time");
  return { body: { are, ...fresh.body, ...(wall && { changed_at: rfc3339(moment_of(wall, context.zone), context.zone) }) }, words: fresh.words };
}

export function back_home_model(draft: Draft, context: Context, now: Date): Model {
  const at = when_of(draft, context, now);
  const when = when_fields(at, context, now);
  const errors: Record<string, string> = { ...when.errors };
  const left = found(draft, "left", context, errors);
  const right = found(draft, "right", context, errors);
  if (Object.keys(errors).length) return { errors, summary: "", posts: [] };
  const { settings = "dont_know", unit = "dont_know", unit_used = "dont_know" } = draft;
  return {
    errors,
    summary: tell("back_home_model.back_home_left_cells_right_cells", { when: when.words, left: left.words, right: right.words, settings: since_words[settings], unit: since_words[unit], used: used_words[unit_used] }),
    posts: [{
      path: "back-home", about: "plan", sides: [...both_sides], words: tell("back_home_model.back_home", { words: when.words }),
      body: { at: when.at, cells: { left: left.body, right: right.body }, settings, unit, unit_used },
    }],
  };
}
