// SPDX-License-Identifier: MIT
// The documents of /api/v1 as the pages read them. Times are RFC 3339 strings with their offset.
import type { Clocks } from "../time/zone";

export type Side = "left" | "right";
export const both_sides: readonly Side[] = ["left", "right"];

export type PhraseCode = "expected_to_last_tonight" | "change_before_tonight" | "change_now" | "no_forecast";
export type WindowState = "expected" | "doubtful" | "not_expected";

export type Weekday = "mon" | "tue" | "wed" | "thu" | "fri" | "sat" | "sun";

/// From and to by the wall clock; an end at midnight is 24:00.
export interface PacedSpan {
  days: Weekday[];
  from: string;
  to: string;
}

/// The settings of one side. No span means all day, every day.
export interface Settings {
  side?: Side;
  from?: string;
  rate_per_min: number;
  inspiratory_fraction: number;
  amplitude: number;
  paced: PacedSpan[];
  growth?: { minutes_per_week: number; up_to_hours: number } | null;
}

export interface Quantiles<T> {
  p05: T;
  p50: T;
  p95: T;
}

export interface Night {
  from: string;
  to: string;
  risk: number;
  risk_by_end?: number;
  window: WindowState;
  tonight?: boolean;
  label?: string;
  /// Only where it is not the household's own.
  zone?: string;
}

export interface Question {
  code: string;
  text: string;
  entry?: string | number;
}

export interface CellsToChange {
  cells: number;
  lot?: string | null;
  place?: string | null;
}

/// A change of the next weeks: likely at that changing time, and in four of five within the days given.
export interface ComingChange {
  at: string;
  earliest: string;
  latest: string;
}

export interface SideForecast {
  phrase: PhraseCode;
  sentence?: string;
  limit?: string;
  because?: string[];
  questions?: Question[];
  warned_at?: string | null;
  stopped_at?: string | null;
  remaining_h?: Quantiles<number> | null;
  warning_at?: Quantiles<string> | null;
  cutoff_at?: Quantiles<string> | null;
  change_by?: string | null;
  no_later_than?: string | null;
  /// The first is `change_by`.
  coming_changes?: ComingChange[];
  nights?: Night[];
  last_recorded_at?: string | null;
  cells_since?: string | null;
  cells?: { profile?: string | null; lot?: string | null; expires?: string | null } | null;
  to_change?: CellsToChange | null;
  /// The lot in this side is called back.
  recalled?: { lot: string; since: string } | null;
  /// Told by the page itself: the rows of this forecast do not reach to tonight.
  beyond?: boolean;
  /// Only where two forecasts stand side by side: how long a fresh set would last.
  fresh_set_h?: Quantiles<number> | null;
}

export interface Lot {
  item?: string;
  lot?: string | null;
  quantity: number;
  expires?: string | null;
  place?: string | null;
  profile?: string | null;
  recalled?: boolean;
}

export interface ItemForecast {
  item: string;
  quantity?: number;
  days?: Quantiles<number> | null;
  order_by?: string | null;
  order_quantity?: number | null;
  please_count?: boolean;
  usable?: number;
  sentence?: string;
  limit?: string;
  lots?: Lot[];
}

export interface InHospital {
  since: string;
  entry?: string | number | null;
}

/// Something in force or still to come.
export interface Plan {
  entry: string | number | null;
  kind: string;
  sides: Side[];
  from: string;
  to?: string | null;
  text: string;
  can_end?: boolean;
  packing?: Packing;
}

export interface Forecast {
  household: string;
  zone: string;
  /// Where the household is: elsewhere during a stay away.
  zone_now?: string;
  /// How the clocks of zone_now stand around then.
  clocks?: Clocks[];
  in_hospital?: InHospital | null;
  plans?: Plan[];
  as_of: string;
  next_changing_time?: string;
  old_after?: string;
  disclaimer?: string;
  sides: Record<Side, SideForecast>;
  stock: ItemForecast[];
  cautions?: string[];
}

export interface UnitInUse {
  serial: string;
  stimulator?: string;
  from: string;
  spare?: boolean;
  cells_in_series?: number;
  gauge?: { steps?: number | null } | null;
}

/// Steps for handling a unit, text of its profile with source and date.
export interface Handling {
  approved?: boolean;
  source?: string;
  date?: string;
  steps?: string[];
}

/// What the unit's profile has, from and to; on the unit's own scale.
export interface SettingsRange {
  rate_per_min?: [number, number];
  inspiratory_fraction?: [number, number];
  amplitude?: [number, number];
}

export interface StimulatorProfile {
  id: string;
  settings_range?: SettingsRange | null;
  /// What is written at each side's cells on the unit.
  marks?: Partial<Record<Side, string>> | null;
  handling?: Handling | null;
}

export interface CellsInSide {
  profile?: string | null;
  lot?: string | null;
  since?: string | null;
}

/// What an agency entered for "Something is wrong now".
export interface Help {
  number?: string | null;
  label?: string | null;
  steps?: { words: string; more?: string }[];
  approved_on?: string | null;
  approved_by?: string | null;
}

export interface Household {
  household: string;
  zone: string;
  area?: string | null;
  changing_times: string[];
  units?: UnitInUse[];
  cell_profiles?: { id: string; designation?: string; usable?: boolean }[];
  items?: string[];
  places?: string[];
  lots?: Lot[];
  cells?: Partial<Record<Side, CellsInSide | null>> | null;
  settings?: Partial<Record<Side, Settings | null>> | null;
  in_hospital?: InHospital | null;
  stays?: { from: string; to: string; changing_times?: string[] }[];
  as_of?: string;
  last_entry?: number;
  help?: Help | null;
}

export interface Entry {
  id: string | number;
  kind: string;
  at: string;
  recorded_at: string;
  who?: string | null;
  voided_by?: string | number | null;
  body?: Record<string, unknown>;
  text: string;
}

export interface Packing {
  cells: number;
  sets?: number;
  missing?: number;
  take?: { lot?: string | null; quantity: number; place?: string | null }[];
  other?: { item: string; quantity: number; missing?: number }[];
  odds_text?: string;
}

export interface WriteAnswer {
  /// Of a message and of an answer to a delivery: its number alone.
  entry: Entry | number;
  questions?: Question[];
  /// Null: it could not be made, and is asked for.
  forecast?: Forecast | null;
  household?: Household | null;
  packing?: Packing | null;
}

/// The same forecast twice; nothing of it is stored.
export interface SideBySide {
  statement: string;
  as_recorded: Forecast;
  as_typed_in: Forecast;
}

export interface FieldError {
  place: string;
  code?: string;
  reason: string;
}

export interface Problem {
  type: string;
  title: string;
  status: number;
  detail?: string;
  errors?: FieldError[];
  /// Of a session that was ended.
  ended?: { why: string; at: string };
  /// The sign-in was too long ago for this.
  sign_in_again?: boolean;
  /// From the answer's Retry-After.
  retry_after_s?: number;
}

export interface Chart {
  side: Side;
  points: { at: string; p05: number; p50: number; p95: number }[];
  readings: { at: string; percent: number | null; text: string }[];
  warning_percent?: number | null;
  cutoff_at?: Quantiles<string> | null;
  as_of?: string;
}
