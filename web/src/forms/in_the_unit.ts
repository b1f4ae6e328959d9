// SPDX-License-Identifier: MIT
// With another unit: which cells are in each of its sides, and what both gauges show. "The same cells" needs no record; what
// is not answered is not known, and is not recorded as anything.
import { both_sides, type Side } from "../api/types";
import type { Draft } from "../state/draft";
import type { Meant } from "../state/intention";
import { tell } from "../words/catalogue/plan";
import { clock } from "../words/moments";
import { side_name } from "../words/names";
import { cell_lots, family_profile, lot_value } from "./change_model";
import type { Context } from "./context";
import { read_number } from "./reading_model";

/// The cells went over with the old ones' records; or these went in, from a lot of the house or not; or nobody knows.
function cells_in(draft: Draft, side: Side, context: Context): { body: Record<string, unknown>; words: string } | null {
  const which = draft[`${side}_in`];
  const lot = cell_lots(context).find((one) => lot_value(one) === which);
  if (lot) {
    const { lot: number, expires, place, profile } = lot;
    return {
      body: { cells: { ...(profile && { profile }), ...(number && { lot: number }), ...(expires && { expires }), ...(place && { place }), age: "fresh" }, from_stock: true },
      words: tell("in_the_unit.fresh_cells", { side: side_name[side] }),
    };
  }
  if (which === "alkaline") return { body: { cells: { profile: family_profile(context.household), age: "fresh" }, from_stock: false }, words: tell("in_the_unit.fresh_cells", { side: side_name[side] }) };
  if (which === "unknown") return { body: { cells: { age: "unknown" }, from_stock: false }, words: tell("in_the_unit.unknown_cells", { side: side_name[side] }) };
  return null;
}

function gauge_of(draft: Draft, side: Side, steps: number | null | undefined, errors: Record<string, string>): { body: Record<string, unknown>; words: string } | null {
  const typed = (draft[`${side}_gauge`] ?? "").trim();
  if (!typed || steps === undefined) return null;
  const value = read_number(typed);
  const most = steps ?? 100;
  if (value === null || value < 0 || value > most || (steps && !Number.isInteger(value))) {
    errors[`${side}_gauge`] = tell("in_the_unit.write_the_gauge", { most });
    return null;
  }
  const words = steps ? tell("in_the_unit.step", { side: side_name[side], value, steps }) : tell("in_the_unit.percent", { side: side_name[side], value });
  return { body: steps ? { step: value, of: steps } : { percent: value }, words };
}

export function in_the_unit(draft: Draft, steps: number | null | undefined, at: { moment: Date; text: string }, context: Context): { errors: Record<string, string>; posts: Meant[]; words: string[] } {
  const errors: Record<string, string> = {};
  const time = clock(at.moment, context.zone);
  const cells = both_sides.flatMap((side) => {
    const found = cells_in(draft, side, context);
    return found ? [{ path: "cell-changes", side, words: `${found.words}, ${time}`, said: found.words, body: { at: at.text, side, reason: "planned", ...found.body } }] : [];
  });
  const gauges = both_sides.flatMap((side) => {
    const seen = gauge_of(draft, side, steps, errors);
    return seen ? [{ path: "readings", side, words: `${seen.words}, ${time}`, said: seen.words, body: { at: at.text, side, condition: "just_on", ...seen.body } }] : [];
  });
  const all = [...cells, ...gauges];
  return { errors, posts: all.map(({ said: _said, ...post }) => post), words: all.map(({ said }) => said) };
}
