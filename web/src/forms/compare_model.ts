// SPDX-License-Identifier: MIT
// With other settings or another cell: what was typed in, as a question to the service. Nothing of it is recorded.
import type { Side } from "../api/types";
import type { Draft } from "../state/draft";
import type { Context, FieldOfPlace } from "./context";
import { settings_fields, typed_settings } from "./settings_model";
import { ask_side, sides_of } from "./side";
import { tell } from "../words/catalogue/plan";

export interface Asked {
  errors: Record<string, string>;
  body: Record<string, unknown>;
  /// Where the service's refusals belong.
  fields: FieldOfPlace;
}

/// Each side's settings keep their own fields.
export const prefix_of = (side: Side): string => `${side}_`;

export function types_of({ household }: Context): { value: string; words: string }[] {
  const usable = (household?.cell_profiles ?? []).filter((profile) => profile.usable !== false);
  return usable.map(({ id, designation }) => ({ value: id, words: designation ? `${designation}: ${id}` : id }));
}

export function compare_model(draft: Draft): Asked {
  const sides = sides_of(draft);
  const errors: Record<string, string> = {};
  const fields: FieldOfPlace = { "/settings": "what", "/cells": "cell" };
  if (!sides.length) errors.side = ask_side;
  const with_settings = draft.what === "settings" || draft.what === "both";
  const with_cell = draft.what === "cell" || draft.what === "both";
  if (!with_settings && !with_cell) errors.what = tell("compare_model.choose_what_is_to_be_other");
  if (with_cell && !draft.cell) errors.cell = tell("compare_model.choose_the_type_of_the_cells");
  const settings = with_settings ? sides.map((side, index) => {
    const typed = typed_settings(draft, prefix_of(side));
    Object.assign(errors, typed.errors);
    Object.assign(fields, settings_fields(prefix_of(side), `/settings/${index}`));
    return { side, ...typed.body };
  }) : [];
  const cells = with_cell ? Object.fromEntries(sides.map((side) => [side, draft.cell])) : {};
  return { errors, fields, body: { ...(with_settings && { settings }), ...(with_cell && { cells }) } };
}
