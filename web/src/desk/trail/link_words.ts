// SPDX-License-Identifier: MIT
// A link of the audit trail in plain words. An action that is not known here is shown as it is.
import type { StaffAccount, TrailLink } from "../trail_types";

const of_a_household: Record<string, string> = {
  household: "Household made", unit: "Unit recorded", settings: "Settings recorded", cell_change: "Change of cells recorded", reading: "Reading or warning recorded",
  paced: "Hours of pacing recorded", switched_off: "Side switched off", stock_count: "Stock counted", delivery: "Delivery recorded", discard: "Stock thrown away",
  use: "Use of stock recorded", stay: "Stay away from home recorded", paced_more: "More pacing for a time recorded", visit: "Visit recorded", hospital: "Hospital stay recorded",
  back_home: "Back home from hospital", end: "End of a plan recorded", check: "Check recorded by a technician", part: "Part recorded", finding_note: "Note on a finding",
  item_terms: "How an item is ordered and used", recall_call: "Told that a lot is recalled", reminders: "Reminders set", void: "Record taken back", answer: "Question answered",
  message: "Message from the home", message_seen: "Message marked as seen", ask: "Asked for a count", stop_place: "Area and stop recorded", closed: "Household closed",
  reopened: "Household opened again", planned_delivery: "Delivery planned", delivery_withdrawn: "Delivery withdrawn", delivery_answer: "Delivery answered: came or did not",
  delivery_settled: "Where packs are that did not come", stop_decision: "Decision on a stop", exported: "Household exported",
};

const of_ways_in: Record<string, string> = {
  invited: "Invited", bound: "Let in by an invitation", "signed-in": "Signed in", "passkey-added": "Passkey added", "recovery-codes-made": "New recovery codes made",
  withdrawn: "Invitation withdrawn", recovered: "Signed in by a recovery code",
  ended: "Signed out, or way in ended", "taken-over": "Taken over as it stood then",
};

const of_the_agency: Record<string, string> = {
  "agency-made": "Agency made", erased: "Household erased", learned: "Learned from all households",
  "agency.round": "Round planned or moved on", "agency.round_calendar": "Rounds and areas recorded", "agency.agency_stock": "The agency's store recorded", "agency.import": "Tables brought in",
  "agency.rounds_feed": "Calendar address of the rounds made or ended", "agency.help": "Entered for “Something is wrong now”", "agency.lot_recall": "Lot recalled, or its recall taken back",
  "agency.lot_correction": "Lot number put right, or that taken back", "agency.profile_proposal": "Profile proposed", "agency.profile_decision": "Proposal decided",
  "agency.unit_event": "Unit in the workshop recorded", "agency.finding_note": "Note on a finding",
};

export const action_words = (action: string): string => of_a_household[action] ?? of_ways_in[action] ?? of_the_agency[action] ?? action;

export const short = (text: string): string => (text.length > 10 ? `${text.slice(0, 8)}…` : text);

export type Names = ReadonlyMap<string, StaffAccount>;

export const names_of = (accounts: readonly StaffAccount[]): Names => new Map(accounts.map((one) => [one.account, one]));

/// An account of staff by its label, any other by its id.
export function account_words(id: string, names: Names, whole: boolean): string {
  const one = names.get(id);
  const shown = whole ? id : short(id);
  if (!one) return `account ${shown}`;
  return whole ? `${one.label}, ${one.role}, account ${id}` : `${one.label}, ${one.role}`;
}

export function who_words({ who }: TrailLink, names: Names, whole: boolean): string {
  return who ? account_words(who, names, whole) : "the service or a command";
}

/// What it was done to, beside the action and the household; empty: they say it.
export function subject_words({ action, subject, household, who }: TrailLink, names: Names, whole: boolean): string {
  if (!action || !subject || subject === who || ["household", "households"].includes(subject) || action === "agency-made") return "";
  if (subject === "erased-stock") return "what erased households left of stock";
  if (action in of_ways_in) return account_words(subject, names, whole);
  if (action === "agency.profile_decision") return `proposal ${subject}`;
  return household && /^\d+$/.test(subject) ? `entry ${subject}` : subject;
}

/// The link that a break is told of, where it names one.
export function link_of_break(sentence: string | null): number | null {
  const found = /\blink (\d+) of the chain\b/.exec(sentence ?? "")?.[1];
  return found ? Number(found) : null;
}
