// SPDX-License-Identifier: MIT
// The cells of a side were changed: from the form's draft to records.
import { both_sides, type Household, type Lot } from "../api/types";
import { is_due } from "../state/side_view";
import type { Draft } from "../state/draft";
import { clock } from "../words/moments";
import { lot_words, reasons, side_name, type Reason } from "../words/names";
import type { Context, FieldOfPlace, Model } from "./context";
import { ask_side, sides_of, sides_words } from "./side";
import { when_fields, when_of } from "./when";

export const change_fields: FieldOfPlace = {
  "/side": "side", "/at": "when", "/reason": "reason", "/cells": "cells", "/cells/lot": "lot", "/cells/expires": "expires", "/cells/age": "age",
};

const family = "lr6-family";

/// Lots of cells in the house, what expires first in front.
export function cell_lots(context: Context): Lot[] {
  const told = context.household?.lots?.filter((lot) => (lot.item ?? "cells") === "cells");
  const lots = told ?? context.forecast?.stock.find((item) => item.item === "cells")?.lots ?? [];
  return lots.filter((lot) => lot.quantity > 0).sort((a, b) => (a.expires ?? "9999").localeCompare(b.expires ?? "9999"));
}

export const lot_value = (lot: Lot): string => `lot:${lot.lot ?? ""}@${lot.place ?? ""}`;

export function reason_of(draft: Draft, context: Context): Reason {
  if (draft.reason) return draft.reason as Reason;
  const sides = sides_of(draft).map((side) => context.forecast?.sides[side]);
  if (sides.some((side) => side?.stopped_at)) return "ran_out";
  return sides.some((side) => side?.warned_at) ? "warning" : "planned";
}

/// Stands for LR6 cells of any brand.
export function family_profile(household: Household | null): string {
  const known = household?.cell_profiles?.map((profile) => profile.id) ?? [];
  return known.find((id) => id === family) ?? known.find((id) => id.includes("family")) ?? family;
}

/// The family by its designation, "LR6"; a brand by its own name.
function type_words(id: string, household: Household | null): string {
  const designation = household?.cell_profiles?.find((profile) => profile.id === id)?.designation;
  return id.includes("family") && designation ? designation : id;
}

/// The type of the cells put in last, whichever side; none where they have no usable profile.
function last_profile({ household, forecast }: Context): string | null {
  const put_in = both_sides.map((side) => {
    const page = household?.cells?.[side];
    const told = forecast?.sides[side];
    return { profile: page?.profile ?? told?.cells?.profile, since: page?.since ?? told?.cells_since };
  });
  const newest = put_in.filter((one) => one.since).sort((a, b) => Date.parse(b.since ?? "") - Date.parse(a.since ?? ""))[0];
  const known = household?.cell_profiles?.find((profile) => profile.id === newest?.profile && profile.usable !== false);
  return known?.id ?? null;
}

/// Cells from the house of which neither the lot nor the cells put in last say the type: then the label is asked.
export function type_is_asked(draft: Draft, context: Context): boolean {
  const lot = cell_lots(context).find((one) => lot_value(one) === draft.cells);
  return lot !== undefined && !lot.profile && !last_profile(context);
}

interface CellsIn {
  cells: Record<string, string>;
  from_stock: boolean;
  words: string;
}

function profile_of_label(draft: Draft, household: Household | null): string | null {
  if (draft.label === "alkaline") return family_profile(household);
  return draft.label === "rechargeable" ? "rechargeable" : null;
}

function cells_of_lot(lot: Lot, draft: Draft, context: Context): CellsIn {
  const last = last_profile(context);
  const profile = lot.profile ?? last ?? profile_of_label(draft, context.household);
  const type = lot.profile ? "" : last ? `, of the type put in last (${type_words(last, context.household)})` : profile ? `, ${draft.label}` : ", type not recorded";
  const named = { ...(lot.lot && { lot: lot.lot }), ...(lot.expires && { expires: lot.expires }), ...(lot.place && { place: lot.place }) };
  const words = `cells of ${lot_words(lot.lot)} from ${lot.place ?? "the house"}${type}`;
  return { cells: { ...(profile && { profile }), ...named, age: "fresh" }, from_stock: true, words };
}

function cells_of(draft: Draft, context: Context): CellsIn | null {
  const lot = cell_lots(context).find((one) => lot_value(one) === draft.cells);
  if (lot) return cells_of_lot(lot, draft, context);
  if (draft.cells === "unknown") return { cells: { age: "unknown" }, from_stock: false, words: "cells not known" };
  if (draft.cells !== "other" || !draft.label) return null;
  const profile = profile_of_label(draft, context.household);
  const typed = { ...(draft.lot && { lot: draft.lot.trim() }), ...(draft.expires && { expires: draft.expires.slice(0, 7) }) };
  const kind = draft.label === "unknown" ? "cells of unknown kind" : `other ${draft.label} cells`;
  return { cells: { ...(profile && { profile }), ...typed, age: draft.age ?? "fresh" }, from_stock: false, words: draft.lot ? `${kind}, lot ${draft.lot.trim()}` : kind };
}

export function change_model(draft: Draft, context: Context, now: Date): Model {
  const sides = sides_of(draft);
  const at = when_of(draft, context, now);
  const when = when_fields(at, context, now);
  const reason = reason_of(draft, context);
  const cells = cells_of(draft, context);
  const errors: Record<string, string> = { ...when.errors };
  if (!sides.length) errors.side = ask_side;
  if (!draft.cells) errors.cells = "Choose which cells went in, or “not known”.";
  else if (draft.cells === "other" && !draft.label) errors.label = "Choose what the label says, or “not known”.";
  if (draft.expires && !/^\d{4}-(0[1-9]|1[0-2])$/.test(draft.expires)) errors.expires = "Write the year and the month, as 2033-01, or leave it empty.";
  if (Object.keys(errors).length || !cells || !at) return { errors, summary: "", posts: [] };

  const told = context.forecast?.sides;
  return {
    errors,
    summary: `${sides_words(sides)}: cells changed ${when.words}; ${reasons[reason].toLowerCase()}; ${cells.words}.`,
    not_due: told ? sides.filter((side) => !is_due(told[side], now)) : [],
    posts: sides.map((side) => ({
      path: "cell-changes",
      side,
      words: `${side_name[side]}: ${cells.cells["age"] === "fresh" ? "fresh cells" : "cells changed"} noted ${clock(at, context.zone)}`,
      body: { at: when.at, side, reason, cells: cells.cells, from_stock: cells.from_stock },
    })),
  };
}
