// SPDX-License-Identifier: MIT
// Another unit comes into use, now or on a coming day, or is kept as a spare.
import { both_sides, type UnitInUse } from "../api/types";
import type { Draft } from "../state/draft";
import type { Context, FieldOfPlace, Model } from "./context";
import { in_the_unit } from "./in_the_unit";
import { plan_from, when_fields, when_of } from "./when";
import { unit_in_use } from "../state/units";
import { tell } from "../words/catalogue/plan";

export const unit_fields: FieldOfPlace = { "/serial": "serial", "/percent": "left_gauge", "/step": "left_gauge", "/stimulator": "stimulator", "/from": "when" };

export const another = "other:";

/// Every unit of the household but the one in use, spares first.
export function units_of({ household }: Context): UnitInUse[] {
  const used = unit_in_use(household)?.serial;
  const known = new Map((household?.units ?? []).filter((unit) => unit.serial !== used).map((unit) => [unit.serial, unit]));
  return [...known.values()].sort((a, b) => Number(b.spare ?? false) - Number(a.spare ?? false));
}

/// How many steps its gauge has, null: it shows per cent. Undefined: not known, so nothing that it shows can be recorded. Of a
/// unit that is new here its type's profile tells ("<type> <steps>").
export function gauge_told(draft: Draft, context: Context): number | null | undefined {
  if (draft.unit !== another) return units_of(context).find((unit) => unit.serial === draft.unit)?.gauge?.steps;
  const told = draft.gauge_of?.split(" ") ?? [];
  return told.length === 2 && told[0] === draft.stimulator ? Number(told[1]) || null : undefined;
}

/// What is in it can be said of a unit that is in use now, not of one that will be.
export function is_in_use(draft: Draft, context: Context, now: Date): boolean {
  const at = when_of(draft, context, now);
  return at !== null && at.getTime() <= now.getTime() && draft.spare !== "yes";
}

export function unit_model(draft: Draft, context: Context, now: Date): Model {
  const known = units_of(context).find((unit) => unit.serial === draft.unit);
  const serial = known?.serial ?? (draft.serial ?? "").trim();
  const stimulator = known?.stimulator ?? draft.stimulator;
  const at = when_of(draft, context, now);
  const when = when_fields(at, context, now);
  const errors: Record<string, string> = { ...when.errors };
  if (!known && draft.unit !== another) errors.unit = tell("unit_model.choose_the_unit");
  else if (!serial) errors.serial = tell("unit_model.write_the_serial_number_on_the");
  if (!known && draft.unit === another && !stimulator) errors.stimulator = tell("unit_model.choose_the_type_of_the_unit");
  const inside = at && is_in_use(draft, context, now) ? in_the_unit(draft, gauge_told(draft, context), { moment: at, text: when.at }, context) : { errors: {}, posts: [], words: [] };
  Object.assign(errors, inside.errors);
  if (Object.keys(errors).length || !at) return { errors, summary: "", posts: [] };
  const from = plan_from(at, context, now);
  const spare = draft.spare === "yes";
  const words = tell("unit_model.unit", { serial, value: spare ? tell("unit_model.kept_as_a_spare") : tell("unit_model.in_use"), words: from.words });
  return {
    errors,
    summary: [words, ...inside.words].map((one) => `${one}.`).join(" "),
    posts: [{ path: "units", about: "plan", sides: spare ? [] : [...both_sides], words, body: { serial, stimulator, from: when.at, ...(spare && { spare }), ...from.confirmed } }, ...inside.posts],
  };
}
