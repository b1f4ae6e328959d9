// SPDX-License-Identifier: MIT
// How a phone of the home is described.
import type { Hours, Phone } from "../api/access";
import { calendar_day, moment_words } from "../words/moments";
import { tell } from "../words/catalogue/access";

/// The last day: an account that ends at midnight ends with the day before.
export function until_words(until: string, zone: string): string {
  return tell("phone_words.until", { calendar_day: calendar_day(new Date(Date.parse(until) - 1), zone) });
}

export const hours_words = ({ from, to }: Hours): string => tell("phone_words.to", { from, to });

export function phone_words({ role, since, last_seen, hours, until }: Phone, now: Date, zone: string): string {
  const say = (at: string): string => moment_words(new Date(at), now, zone);
  const guest = role === "guest" ? [tell("phone_words.guest"), hours && hours_words(hours), until && until_words(until, zone)].filter(Boolean).join(", ") : "";
  return [guest, tell("phone_words.since", { say: say(since) }), last_seen ? tell("phone_words.last_seen", { say: say(last_seen) }) : tell("phone_words.not_seen_yet")].filter(Boolean).join("; ").replace(/^./, (letter) => letter.toUpperCase());
}
