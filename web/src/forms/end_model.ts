// SPDX-License-Identifier: MIT
// What was open is over: pacing more, a side switched off, a stay that ended earlier than planned.
import type { Plan } from "../api/types";
import type { Draft } from "../state/draft";
import { plan_words } from "../words/names";
import type { Context, FieldOfPlace, Model } from "./context";
import { when_fields, when_of } from "./when";
import { tell } from "../words/catalogue/plan";

export const end_fields: FieldOfPlace = { "/at": "when" };

export function plan_of(draft: Draft, context: Context): Plan | undefined {
  return context.forecast?.plans?.find((plan) => String(plan.entry) === draft.entry);
}

export function end_words(plan: Plan | undefined): string {
  return plan?.kind === "stay" ? tell("end_model.came_home_earlier") : tell("end_model.it_is_over");
}

export function end_model(draft: Draft, context: Context, now: Date): Model {
  const plan = plan_of(draft, context);
  const at = when_of(draft, context, now);
  const when = when_fields(at, context, now);
  if (!at) return { errors: when.errors, summary: "", posts: [] };
  const words = `${end_words(plan)}${plan ? `: ${plan_words(plan)}` : "."}`;
  return {
    errors: {},
    summary: tell("end_model.since", { end: end_words(plan), words: when.words }),
    posts: [{ path: "ends", about: "plan", sides: plan?.sides ?? [], words: words.replace(/\.$/, ""), body: { entry: plan?.entry ?? Number(draft.entry), at: when.at } }],
  };
}
