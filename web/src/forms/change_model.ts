// SPDX-License-Identifier: MIT
// The cells of a side were changed: from the form's draft to records.
import { both_sides, type Household, type Lot } from "../api/types";
import { is_due } from "../state/side_view";
import type { Draft } from "../state/draft";
import { clock } from "../words/moments";
import { lot_words, place_name, reasons, side_name, type Reason } from "../words/names";
import type { Context, FieldOfPlace, Model } from "./context";
import { cell_lots as lots_in_house, lot_to_take } from "../state/lots";
import { likely_reason, likely_when } from "./preselected";
import { unit_in_use } from "../state/units";
import { ask_side, sides_of, sides_words } from "./side";
import { when_fields, when_of } from "./when";
import { tell } from "../words/catalogue/record";

export const change_fields: FieldOfPlace = {
  "/side": "side", "/at": "when", "/reason": "reason", "/cells": "cells", "/cells/lot": "lot", "/cells/expires": "expires", "/cells/age": "age",
};

const family = "lr6-family";

export const cell_lots = ({ household, forecast }: Context): Lot[] => lots_in_house(household, forecast);

export const lot_value = (lot: Lot): string => `lot:${lot.lot ?? ""}@${lot.place ?? ""}`;

export function reason_of(draft: Draft, context: Context): Reason {
  return (draft.reason as Reason | undefined) ?? likely_reason(sides_of(draft).map((side) => context.forecast?.sides[side]));
}

/// What was chosen, and where nothing was, what is likely.
export function filled_in(draft: Draft, context: Context, now: Date): Draft & { when: string } {
  const lot = lot_to_take(cell_lots(context), unit_in_use(context.household)?.cells_in_series ?? 2, context.household?.as_of);
  const when = draft.when ?? likely_when(reason_of(draft, context), now, context.zone);
  return { ...draft, when, ...(!draft.cells && lot && { cells: lot_value(lot) }) };
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

function label_words(draft: Draft): string {
  return tell(draft.label === "alkaline" ? "change_model.label_alkaline" : "change_model.label_rechargeable");
}

function profile_of_label(draft: Draft, household: Household | null): string | null {
  if (draft.label === "alkaline") return family_profile(household);
  return draft.label === "rechargeable" ? "rechargeable" : null;
}

function cells_of_lot(lot: Lot, draft: Draft, context: Context): CellsIn {
  const last = last_profile(context);
  const profile = lot.profile ?? last ?? profile_of_label(draft, context.household);
  const type = lot.profile ? "" : last ? tell("change_model.of_the_type_put_in_last", { type: type_words(last, context.household) }) : profile ? `, ${label_words(draft)}` : tell("change_model.type_not_recorded");
  const named = { ...(lot.lot && { lot: lot.lot }), ...(lot.expires && { expires: lot.expires }), ...(lot.place && { place: lot.place }) };
  const words = tell("change_model.cells_of_from", { lot: lot_words(lot.lot), place: place_name(lot.place) ?? tell("change_model.the_house"), type });
  return { cells: { ...(profile && { profile }), ...named, age: "fresh" }, from_stock: true, words };
}

function cells_of(draft: Draft, context: Context): CellsIn | null {
  const lot = cell_lots(context).find((one) => lot_value(one) === draft.cells);
  if (lot) return cells_of_lot(lot, draft, context);
  if (draft.cells === "unknown") return { cells: { age: "unknown" }, from_stock: false, words: tell("change_model.cells_not_known") };
  if (draft.cells !== "other" || !draft.label) return null;
  const profile = profile_of_label(draft, context.household);
  const typed = { ...(draft.lot && { lot: draft.lot.trim() }), ...(draft.expires && { expires: draft.expires.slice(0, 7) }) };
  const kind = draft.label === "unknown" ? tell("change_model.cells_of_unknown_kind") : tell("change_model.other_cells", { label: label_words(draft) });
  return { cells: { ...(profile && { profile }), ...typed, age: draft.age ?? "fresh" }, from_stock: false, words: draft.lot ? tell("change_model.lot", { kind, lot: draft.lot.trim() }) : kind };
}

export function change_model(typed: Draft, context: Context, now: Date): Model {
  const draft = filled_in(typed, context, now);
  const sides = sides_of(draft);
  const at = when_of(draft, context, now);
  const when = when_fields(at, context, now);
  const reason = reason_of(draft, context);
  const cells = cells_of(draft, context);
  const errors: Record<string, string> = { ...when.errors };
  if (!sides.length) errors.side = ask_side;
  if (!draft.cells) errors.cells = tell("change_model.choose_which_cells_went_in_or");
  else if (draft.cells === "other" && !draft.label) errors.label = tell("change_model.choose_what_the_label_says_or");
  if (draft.expires && !/^\d{4}-(0[1-9]|1[0-2])$/.test(draft.expires)) errors.expires = tell("change_model.write_the_year_and_the_month");
  if (Object.keys(errors).length || !cells || !at) return { errors, summary: "", posts: [] };

  const told = context.forecast?.sides;
  return {
    errors,
    summary: tell("change_model.cells_changed", { sides: sides_words(sides), when: when.words, reason: reasons[reason].toLowerCase(), cells: cells.words }),
    not_due: told ? sides.filter((side) => !is_due(told[side], now)) : [],
    posts: sides.map((side) => ({
      path: "cell-changes",
      side,
      words: tell(cells.cells["age"] === "fresh" ? "change_model.fresh_noted" : "change_model.changed_noted", { side: side_name[side], clock: clock(at, context.zone) }),
      body: { at: when.at, side, reason, cells: cells.cells, from_stock: cells.from_stock },
    })),
  };
}
