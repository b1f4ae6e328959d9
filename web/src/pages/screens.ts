// SPDX-License-Identifier: MIT
// Which screens stand behind the first, in which file each comes, and where each leads on to.
import type { ComponentType } from "preact";
import type { Desk } from "../state/desk";
import type { FormProps } from "../forms/use_form";
import { context_of } from "../forms/context_of";
import { draft_again, store_draft, type Draft } from "../state/draft";
import type { Refusal } from "../state/intention";
import { Part } from "../state/part";
import { open_instead, open_screen, type Screen } from "../state/screen";

type Screens = Record<string, ComponentType<FormProps>>;
const part = (fetch: () => Promise<{ screens: Screens }>): Part<Screens> => new Part(() => fetch().then(({ screens }) => screens));

const record = part(() => import("../forms/record_forms"));
const plan = part(() => import("../forms/plan_forms"));
const agency = part(() => import("../forms/agency_forms"));
const behind = part(() => import("./behind"));
const card = part(() => import("./card_screen"));
const reminders = part(() => import("../reminders/reminders_screen"));
const phone = part(() => import("../access/phone_screens"));
/// In the same file as what is told to the agency.
export const agency_card = new Part<ComponentType<{ desk: Desk }>>(() => import("../forms/agency_forms").then(({ AgencyCard }) => AgencyCard));
export const all_parts = [record, agency, behind, plan, phone];  // the card is for a printer: it is fetched when it is asked for

const record_forms: readonly string[] = ["change", "reading", "warned", "stock", "away"];
const plan_forms: readonly string[] = ["paced_more", "less", "settings", "visit", "hospital", "back_home", "unit", "end", "compare"];
const agency_forms: readonly string[] = ["message", "delivery"];
const pages: readonly string[] = ["entries", "more", "handover"];
const phone_screens: readonly string[] = ["phones", "invite", "sealed_code", "sign_out"];

export const is_form = (name: string): boolean => [record_forms, plan_forms, agency_forms].some((forms) => forms.includes(name));
export const shows_no_forecast = (name: string): boolean => is_form(name) && name !== "compare";

/// The form of what was refused, as it was filled in.
export function come_back(desk: Desk, refusal: Refusal): void {
  const { intention } = refusal;
  if (!intention.form) return;
  desk.shown(refusal);
  store_draft(desk.name, intention.form, draft_again(intention, context_of(desk).zone), intention.key);
  open_screen(intention.form);
}

/// Null: the first screen.
export function part_named(name: string): Part<Screens> | null {
  if (record_forms.includes(name)) return record;
  if (plan_forms.includes(name) || name === "plans" || name === "no_deliveries") return plan;
  if (agency_forms.includes(name)) return agency;
  if (name === "card") return card;
  if (name === "reminders") return reminders;
  if (phone_screens.includes(name)) return phone;
  return pages.includes(name) ? behind : null;
}

const go_to = (screen: string) => (): void => open_instead(screen);

/// A plan's form was opened from the plans and leads back there. Back home leads to the first screen, where it says what
/// is known now; with other settings or another unit to their form. A form that a question opened (it names the side)
/// leads back to the question. What belongs to the phones leads back to them.
export function way_on(screen: Screen): (sent?: Draft) => void {
  if (screen.name === "no_deliveries") return go_to("plans");
  if (["invite", "sealed_code"].includes(screen.name)) return go_to("phones");
  if (!plan_forms.includes(screen.name) || screen.given["side"]) return go_to("");
  if (screen.name !== "back_home") return go_to("plans");
  return (sent) => {
    const next = sent?.settings === "changed" ? "settings" : sent?.unit === "changed" ? "unit" : "";
    go_to(next)();
  };
}
