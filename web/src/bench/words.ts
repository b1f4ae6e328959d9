// SPDX-License-Identifier: MIT
// The bench's own words: a percentage, a range, a day, a state. Sentences of substance come from the service.
import type { More } from "./api";
import type { Reason, Scope, State } from "./api_findings";

const minus = "\u2212";
const thin = "\u00a0";

/// One place after the point where all are small.
function digits(value: number, whole: boolean): string {
  const size = Math.abs(value);
  return whole || size >= 9.95 ? String(Math.round(size)) : String(Math.round(size * 10) / 10);
}

function with_sign(value: number, whole: boolean): string {
  const text = digits(value, whole);
  const sign = Number(text) === 0 ? "" : value < 0 ? minus : "+";
  return `${sign}${text}`;
}

/// "+12 %", "−3.4 %".
export const signed = (value: number): string => `${with_sign(value, false)}${thin}%`;

/// "+2.1", "−0.4": standard deviations.
export const signed_number = (value: number): string => with_sign(value, false);

export interface MoreWords {
  best: string;
  /// "+5 to +19"; null: not known.
  range: string | null;
}

export function more_parts({ more_percent, low_percent, high_percent }: More): MoreWords {
  if (more_percent === null) return { best: "nothing read", range: null };
  const whole = [more_percent, low_percent ?? 0, high_percent ?? 0].some((one) => Math.abs(one) >= 9.95);
  const best = `${with_sign(more_percent, whole)}${thin}%`;
  if (low_percent === null || high_percent === null) return { best, range: null };
  return { best, range: `${with_sign(low_percent, whole)} to ${with_sign(high_percent, whole)}`.replace(/ /g, thin) };
}

/// "+12 % (+5 to +19)".
export function more_words(more: More): string {
  const { best, range } = more_parts(more);
  return range ? `${best} (${range})` : best;
}

/// A probability as a number that never claims to be certain.
export function chance(p: number): string {
  const percent = p * 100;
  if (percent < 1) return `under 1${thin}%`;
  return percent > 99 ? `over 99${thin}%` : `${Math.round(percent)}${thin}%`;
}

/// The same in words; the number always stands beside them.
export function probable(p: number): string {
  if (p > 0.95) return "almost certain";
  if (p > 0.8) return "very probable";
  if (p > 0.5) return "more probable than not";
  if (p > 0.2) return "possible";
  return p > 0.05 ? "not probable" : "hardly possible";
}

/// A clause of the service as a sentence begins; a title without the full stop of a sentence.
export const as_title = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`.replace(/\.$/, "");

export const here = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone;

/// "12 Nov 2026": histories are long, so the year is always told.
export function day(at: string, zone: string): string {
  const bare = /^\d{4}-\d\d-\d\d$/.test(at);
  return new Intl.DateTimeFormat("en-GB", { timeZone: bare ? "UTC" : zone, day: "numeric", month: "short", year: "numeric" }).format(new Date(at)).replace("Sept", "Sep");
}

/// Without the year where it is this one.
export function short_day(at: string, zone: string): string {
  const told = day(at, zone);
  const year = ` ${new Intl.DateTimeFormat("en-GB", { timeZone: zone, year: "numeric" }).format(new Date())}`;
  return told.endsWith(year) ? told.slice(0, -year.length) : told;
}

export const state_words: Record<State, string> = { open: "Not looked at", seen: "Seen", taken_on: "Taken on", closed: "Closed" };

export const reason_words: Record<Reason, string> = {
  cause_removed: "The cause was found and removed", explained: "Explained: it is as it should be recorded", nothing_found: "Looked for, nothing found", cannot_tell: "Cannot be told, and not followed further",
};

export const scope_words: Record<Scope, string> = { left: "left", right: "right", both: "both sides" };

export const kind_words: Record<string, string> = {
  drift: "Use grows", step: "Use changed at once", asymmetry: "One side is off", bad_lot: "A lot that holds less", unit_eats_cells: "A unit that draws more", changes_too_early: "Changes always too early",
  gauge_disagrees: "A gauge that disagrees", settings_not_up_to_date: "Settings not up to date", paced_longer: "Paced longer than recorded",
};

export const mark_words = { settings: "settings", unit: "unit", lot: "lot", cell_type: "cell type" } as const;

/// How much a step is expected to tell.
export function bits_words(bits: number): string {
  const much = bits >= 0.5 ? "tells most of it" : bits >= 0.2 ? "tells something" : "tells a little";
  return `${much} (${Math.round(bits * 100) / 100} bit)`;
}

export function count(n: number, one: string, many = `${one}s`): string {
  return `${n} ${n === 1 ? one : many}`;
}
