// SPDX-License-Identifier: MIT
// Someone looked at a side: from the form's draft to a reading.
import type { Household, Side } from "../api/types";
import type { Draft } from "../state/draft";
import { unit_in_use } from "../state/units";
import { clock } from "../words/moments";
import { conditions, side_name, type ConditionCode } from "../words/names";
import type { Context, FieldOfPlace, Model } from "./context";
import { ask_side } from "./side";
import { when_fields, when_of } from "./when";
import { tell } from "../words/catalogue/record";

export const reading_fields: FieldOfPlace = {
  "/side": "side", "/at": "when", "/condition": "condition", "/percent": "percent", "/step": "step", "/of": "step", "/set_V": "set_V", "/cell_V": "cell_V_0",
};

export function gauge_steps(household: Household | null): number | null {
  return unit_in_use(household)?.gauge?.steps ?? null;
}

/// People write 2,61 as well as 2.61. A reversed cell reads below nought.
export function read_number(text: string | undefined): number | null {
  const plain = (text ?? "").trim().replace(",", ".");
  return /^-?\d+(\.\d+)?$/.test(plain) ? Number(plain) : null;
}

interface Seen {
  body?: Record<string, unknown>;
  words?: string;
  errors?: Record<string, string>;
}

function gauge_seen(draft: Draft, steps: number | null): Seen {
  if (steps) {
    if (!draft.step) return { errors: { step: tell("reading_model.choose_what_the_unit_shows") } };
    return { body: { step: Number(draft.step), of: steps }, words: tell("reading_model.gauge_of", { step: draft.step, steps }) };
  }
  const percent = read_number(draft.percent);
  if (percent === null || percent < 0 || percent > 100) return { errors: { percent: tell("reading_model.write_what_the_unit_shows_a") } };
  return { body: { percent }, words: tell("reading_model.gauge", { percent }) };
}

function volts_seen(draft: Draft, cells_in_series: number): Seen {
  const sensible = (volts: number | null, least: number, most: number): boolean => volts !== null && volts >= least && volts <= most;
  if ((draft.volts_how ?? "set") === "set") {
    const volts = read_number(draft.set_V);
    if (!sensible(volts, 0, 2 * cells_in_series)) return { errors: { set_V: tell("reading_model.write_the_volts_of_the_cells", { value: 2 * cells_in_series }) } };
    return { body: { set_V: volts }, words: tell("reading_model.v_together", { volts }) };
  }
  const errors: Record<string, string> = {};
  const volts = Array.from({ length: cells_in_series }, (_, index) => read_number(draft[`cell_V_${index}`]));
  volts.forEach((one, index) => {
    if (!sensible(one, -2, 2)) errors[`cell_V_${index}`] = tell("reading_model.write_the_volts_of_this_cell");
  });
  return Object.keys(errors).length ? { errors } : { body: { cell_V: volts }, words: tell("reading_model.cells_v", { volts: volts.join(tell("reading_model.v_and")) }) };
}

function seen_of(draft: Draft, context: Context): Seen {
  const seen = draft.seen ?? "gauge";
  if (seen === "stopped") return { body: { stopped: true }, words: tell("reading_model.stopped") };
  if (seen === "volts") return volts_seen(draft, unit_in_use(context.household)?.cells_in_series ?? 2);
  return gauge_seen(draft, gauge_steps(context.household));
}

export function reading_model(draft: Draft, context: Context, now: Date): Model {
  const at = when_of(draft, context, now);
  const when = when_fields(at, context, now);
  const seen = seen_of(draft, context);
  const errors: Record<string, string> = { ...when.errors, ...seen.errors };
  if (draft.side !== "left" && draft.side !== "right") errors.side = ask_side;
  if (Object.keys(errors).length || !at) return { errors, summary: "", posts: [] };
  const side = draft.side as Side;
  const stopped = seen.body?.["stopped"] === true;
  const condition = (draft.condition ?? "pacing") as ConditionCode;
  const how = stopped ? "" : `, ${conditions[condition].toLowerCase()}`;
  return {
    errors,
    summary: `${side_name[side]}: ${seen.words}${how}, ${when.words}.`,
    posts: [{ path: "readings", side, words: tell("reading_model.noted", { side: side_name[side], words: seen.words, clock: clock(at, context.zone) }), body: { at: when.at, side, ...(stopped ? {} : { condition }), ...seen.body } }],
  };
}

export function warned_model(draft: Draft, context: Context, now: Date): Model {
  const at = when_of(draft, context, now);
  const when = when_fields(at, context, now);
  const errors: Record<string, string> = { ...when.errors };
  if (draft.side !== "left" && draft.side !== "right") errors.side = ask_side;
  if (Object.keys(errors).length || !at) return { errors, summary: "", posts: [] };
  const side = draft.side as Side;
  return {
    errors,
    summary: tell("reading_model.the_unit_warned", { side: side_name[side], words: when.words }),
    posts: [{ path: "readings", side, words: tell("reading_model.warning_noted", { side: side_name[side], clock: clock(at, context.zone) }), body: { at: when.at, side, warning: true } }],
  };
}
