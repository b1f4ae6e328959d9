// SPDX-License-Identifier: MIT
// Reminders of a household: how they are wished for, its calendar's secret address, and what this phone is sent.
import { language } from "../words/language";
import { get, household_path, post, send_once, type Answer } from "./client";

export type About = "changes" | "orders";

export interface ReminderSettings {
  what: About[];
  /// Local time on the day of the change; null: four hours before the changing time.
  at: string | null;
  quiet: { from: string; to: string } | null;
  words: "neutral" | "plain";
  second_after_min: number | null;
}

export type Part = "first" | "second";

export interface Push {
  /// Null or false: this service sends none.
  offered: boolean;
  key: string | null;
  this_phone: { part: Part; since: string; last_sent_at?: string | null; last_confirmed_at?: string | null } | null;
  phones?: { label: string; part: Part; last_confirmed_at?: string | null; this?: boolean }[];
}

export interface Reminders {
  settings: ReminderSettings;
  entry: number;
  /// Since when the agency has closed the home: it is reminded of nothing.
  closed_at?: string | null;
  calendar: { since: string; last_read_at?: string | null } | null;
  push: Push;
}

export interface Address {
  address: string;
  webcal: string;
}

const path = (household: string): string => household_path(household);

export const reminders_of = (household: string): Promise<Answer<Reminders>> => get(`${path(household)}/reminders`);
export const keep_reminders = (household: string, settings: ReminderSettings, key: string): Promise<Answer<unknown>> =>
  post(`${path(household)}/reminders`, settings, key);
/// A calendar shows the words that it is sent: in the language of the page that made its address.
const in_the_language_of_the_page = (address: string): string => (language() === "en" ? address : `${address}&language=${language()}`);

export async function make_calendar(household: string): Promise<Answer<Address>> {
  const answer = await send_once<Address>("POST", `${path(household)}/calendar`, {});
  if ("got" in answer) for (const form of ["address", "webcal"] as const) answer.got[form] = in_the_language_of_the_page(answer.got[form]);
  return answer;
}

export const end_calendar = (household: string): Promise<Answer<null>> => send_once("DELETE", `${path(household)}/calendar`);
export const send_here = (household: string, subscription: PushSubscriptionJSON, part: Part): Promise<Answer<Push>> =>
  send_once("POST", `${path(household)}/push`, { endpoint: subscription.endpoint, keys: subscription.keys, part });
export const send_no_more = (household: string): Promise<Answer<null>> => send_once("DELETE", `${path(household)}/push`);
export const send_a_trial = (household: string): Promise<Answer<{ queued: boolean }>> => send_once("POST", `${path(household)}/push/trial`, {});
