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

export const back_home_fields: FieldOfPlace = {
  "/at": "when", "/settings": "settings", "/unit": "unit", "/unit_used": "unit_used",
  "/cells/left": "left_are", "/cells/left/changed_at": "left_at", "/cells/right": "right_are", "/cells/right/changed_at": "right_at",
};

const since_words: Record<string, string> = { as_before: "as before", changed: "changed", dont_know: "not known" };
const used_words: Record<string, string> = { yes: "used in hospital", no: "not used in hospital", dont_know: "perhaps used in hospital" };

/// Which fresh cells went in, as far as it is known.
function fresh_cells(draft: Draft, side: Side, context: Context): { body: Record<string, unknown>; words: string } {
  const which = draft[`${side}_which`];
  const lot = cell_lots(context).find((one) => lot_value(one) === which);
  if (lot) {
    const { lot: number, expires, profile } = lot;
    return { body: { ...(profile && { profile }), ...(number && { lot: number }), ...(expires && { expires }), from_stock: true }, words: `fresh, ${lot_words(lot.lot)}` };
  }
  if (which === "alkaline") return { body: { profile: family_profile(context.household) }, words: "fresh, alkaline" };
  return { body: {}, words: "fresh, of a type that is not known" };
}

function found(draft: Draft, side: Side, context: Context, errors: Record<string, string>): { body: Record<string, unknown>; words: string } {
  const are = draft[`${side}_are`];
  if (are !== "fresh") return { body: { are: are ?? "dont_know" }, words: are === "as_before" ? "as before" : "not known" };
  const fresh = fresh_cells(draft, side, context);
  const typed = draft[`${side}_at`];
  const wall = typed ? read_wall(typed) : null;
  if (typed && !wall) errors[`${side}_at`] = "Give the day and the time, or leave it empty.";
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
    summary: `Back home ${when.words}. Left cells ${left.words}; right cells ${right.words}; settings ${since_words[settings]}; unit ${since_words[unit]}, ${used_words[unit_used]}.`,
    posts: [{
      path: "back-home", about: "plan", sides: [...both_sides], words: `Back home ${when.words}`,
      body: { at: when.at, cells: { left: left.body, right: right.body }, settings, unit, unit_used },
    }],
  };
}
