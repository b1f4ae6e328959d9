// SPDX-License-Identifier: MIT
// Another unit comes into use, now or on a coming day, or is kept as a spare.
import { both_sides, type UnitInUse } from "../api/types";
import type { Draft } from "../state/draft";
import type { Context, FieldOfPlace, Model } from "./context";
import { plan_from, when_fields, when_of } from "./when";
import { unit_in_use } from "./reading_model";

export const unit_fields: FieldOfPlace = { "/serial": "serial", "/stimulator": "stimulator", "/from": "when" };

export const another = "other:";

/// Every unit of the household but the one in use, spares first.
export function units_of({ household }: Context): UnitInUse[] {
  const used = unit_in_use(household)?.serial;
  const known = new Map((household?.units ?? []).filter((unit) => unit.serial !== used).map((unit) => [unit.serial, unit]));
  return [...known.values()].sort((a, b) => Number(b.spare ?? false) - Number(a.spare ?? false));
}

export function unit_model(draft: Draft, context: Context, now: Date): Model {
  const known = units_of(context).find((unit) => unit.serial === draft.unit);
  const serial = known?.serial ?? (draft.serial ?? "").trim();
  const stimulator = known?.stimulator ?? draft.stimulator;
  const at = when_of(draft, context, now);
  const when = when_fields(at, context, now);
  const errors: Record<string, string> = { ...when.errors };
  if (!known && draft.unit !== another) errors.unit = "Choose the unit.";
  else if (!serial) errors.serial = "Write the serial number on the unit.";
  if (!known && draft.unit === another && !stimulator) errors.stimulator = "Choose the type of the unit.";
  if (Object.keys(errors).length || !at) return { errors, summary: "", posts: [] };
  const from = plan_from(at, context, now);
  const spare = draft.spare === "yes";
  const words = `Unit ${serial} ${spare ? "kept as a spare" : "in use"} ${from.words}`;
  return {
    errors,
    summary: `${words}.`,
    posts: [{ path: "units", about: "plan", sides: spare ? [] : [...both_sides], words, body: { serial, stimulator, from: when.at, ...(spare && { spare }), ...from.confirmed } }],
  };
}
