// SPDX-License-Identifier: MIT
// In hospital: from then on no forecast and no question.
import { both_sides } from "../api/types";
import type { Draft } from "../state/draft";
import type { Context, FieldOfPlace, Model } from "./context";
import { plan_from, when_fields, when_of } from "./when";
import { tell } from "../words/catalogue/plan";

export const hospital_fields: FieldOfPlace = { "/from": "when" };

export function hospital_model(draft: Draft, context: Context, now: Date): Model {
  const at = when_of(draft, context, now);
  const { at: text, errors } = when_fields(at, context, now);
  if (!at) return { errors, summary: "", posts: [] };
  const from = plan_from(at, context, now);
  const words = tell("hospital_model.in_hospital", { words: from.words });
  return {
    errors,
    summary: tell("hospital_model.no_forecast_until_back_home", { words }),
    posts: [{ path: "hospital", about: "plan", sides: [...both_sides], words, body: { from: text, ...from.confirmed } }],
  };
}
