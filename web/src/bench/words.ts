// SPDX-License-Identifier: MIT
// The bench's own words: a percentage, a range, a day, a state. Sentences of substance come from the service.
import type { More } from "./api";
import { locale } from "../words/language";
import type { Reason, Scope, State } from "./api_findings";
import { tell } from "../words/catalogue/bench";

const minus = "\u2212";
const thin = "\u00a0";

/// One place after the point where all are small.
function digits(value: number, whole: boolean): string {
  const size = Math.abs(value);
  const places = whole || size >= 9.95 ? 0 : 1;
  return new Intl.NumberFormat(locale(), { useGrouping: false, maximumFractionDigits: places }).format(size);
}

function with_sign(value: number, whole: boolean): string {
  const text = digits(value, whole);
  const sign = /^[0.,]+$/.test(text) ? "" : value < 0 ? minus : "+";
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
  if (more_percent === null) return { best: tell("bench.nothing_read"), range: null };
  const whole = [more_percent, low_percent ?? 0, high_percent ?? 0].some((one) => Math.abs(one) >= 9.95);
  const best = `${with_sign(more_percent, whole)}${thin}%`;
  if (low_percent === null || high_percent === null) return { best, range: null };
  return { best, range: tell("bench.range", { low: with_sign(low_percent, whole), high: with_sign(high_percent, whole) }).replace(/ /g, thin) };
}

/// "+12 % (+5 to +19)".
export function more_words(more: More): string {
  const { best, range } = more_parts(more);
  return range ? `${best} (${range})` : best;
}

/// A probability as a number that never claims to be certain.
export function chance(p: number): string {
  const percent = p * 100;
  if (percent < 1) return tell("bench.under_1", { thin });
  return percent > 99 ? tell("bench.over_99", { thin }) : `${Math.round(percent)}${thin}%`;
}

/// The same in words; the number always stands beside them.
export function probable(p: number): string {
  if (p > 0.95) return tell("bench.almost_certain");
  if (p > 0.8) return tell("bench.very_probable");
  if (p > 0.5) return tell("bench.more_probable_than_not");
  if (p > 0.2) return tell("bench.possible");
  return p > 0.05 ? tell("bench.not_probable") : tell("bench.hardly_possible");
}

/// A clause of the service as a sentence begins; a title without the full stop of a sentence.
export const as_title = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`.replace(/\.$/, "");

export const here = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone;

/// "12 Nov 2026": histories are long, so the year is always told.
export function day(at: string, zone: string): string {
  const bare = /^\d{4}-\d\d-\d\d$/.test(at);
  return new Intl.DateTimeFormat(locale(), { timeZone: bare ? "UTC" : zone, day: "numeric", month: "short", year: "numeric" }).format(new Date(at)).replace("Sept", "Sep");
}

/// Without the year where it is this one.
export function short_day(at: string, zone: string): string {
  const told = day(at, zone);
  const year = ` ${new Intl.DateTimeFormat(locale(), { timeZone: zone, year: "numeric" }).format(new Date())}`;
  return told.endsWith(year) ? told.slice(0, -year.length) : told;
}

export const state_words: Record<State, string> = { open: tell("bench.not_looked_at"), seen: tell("bench.seen_state"), taken_on: tell("bench.taken_on"), closed: tell("bench.closed") };

export const reason_words: Record<Reason, string> = {
  cause_removed: tell("bench.the_cause_was_found_and_removed"), explained: tell("bench.explained_it_is_as_it_should"), nothing_found: tell("bench.looked_for_nothing_found"), cannot_tell: tell("bench.cannot_be_told_and_not_followed"),
};

export const scope_words: Record<Scope, string> = { left: tell("bench.left"), right: tell("bench.right"), both: tell("bench.both_sides") };

export const kind_words: Record<string, string> = {
  drift: tell("bench.use_grows"), step: tell("bench.use_changed_at_once"), asymmetry: tell("bench.one_side_is_off"), bad_lot: tell("bench.a_lot_unlike_its_type"), unit_eats_cells: tell("bench.a_unit_that_draws_more"), changes_too_early: tell("bench.changes_always_too_early"),
  gauge_disagrees: tell("bench.a_gauge_that_disagrees"), settings_not_up_to_date: tell("bench.settings_not_up_to_date"), paced_longer: tell("bench.paced_longer_than_recorded"),
};

export const mark_words = { settings: tell("bench.settings"), unit: tell("bench.unit_mark"), lot: tell("bench.lot_mark"), cell_type: tell("bench.cell_type") } as const;

/// How much a step is expected to tell.
export function bits_words(bits: number): string {
  const much = bits >= 0.5 ? tell("bench.tells_most_of_it") : bits >= 0.2 ? tell("bench.tells_something") : tell("bench.tells_a_little");
  return tell("bench.bits", { much, bits: Math.round(bits * 100) / 100 });
}

export const count = (n: number, one: "fault" | "finding" | "home" | "set" | "thing"): string => tell(`bench.count_${one}`, { count: n });
