// SPDX-License-Identifier: MIT
// The documents of the bench: finished sets, units, lots, worn parts. Findings and profiles have files of their own.
import type { Side } from "../api/types";
import { household_path } from "../api/client";
import type { Finding } from "./api_findings";
import type { LeavesOut } from "./left_out";

/// Use over what was expected: 12.3 is 12.3 % more. Low and high are 95 % limits; null: not known.
export interface More {
  more_percent: number | null;
  low_percent: number | null;
  high_percent: number | null;
}

export type Mark = "settings" | "unit" | "lot" | "cell_type";

export interface SetChart {
  expected_percent: number;
  expected_low_percent: number;
  expected_high_percent: number;
  /// In standard deviations, as are the two charts.
  surprise: number;
  ewma: { value: number; lower: number; upper: number; signal: boolean };
  cusum: { high: number; low: number; limit: number; signal: boolean };
}

export interface FinishedSet {
  number: number;
  from: string;
  to: string;
  unit: string | null;
  cell_type: string | null;
  lot: string | null;
  ended: string;
  ended_text: string;
  settings_text: string | null;
  /// Settings that came into force while it was in.
  settings_changed: { at: string; settings_text: string }[];
  expected_mAh: number;
  expected_mA: number;
  observed: (More & { depth_percent: number; readings: number }) | null;
  chart: SetChart | null;
  /// What differed from the set before when it went in.
  marks: Mark[];
  text: string;
}

export interface SettingsChange extends More {
  at: string;
  sets_before: number;
  sets_after: number;
  sets_between: number;
  text: string;
}

export interface CheckMade {
  entry: number;
  at: string;
  what: "settings_read" | "hours_noted" | "bench_current";
  more_percent: number | null;
  unit: string | null;
  text: string;
}

export interface SideHistory {
  household: string;
  side: Side;
  zone: string;
  as_of: string;
  fresh: boolean;
  sets: FinishedSet[];
  charts: { ewma: { text: string }; cusum: { text: string } };
  left_against_right: (More & { sets_left: number; sets_right: number; text: string }) | null;
  settings_changes: SettingsChange[];
  checks: CheckMade[];
  findings: Finding[];
}

export interface Place {
  kind: "home" | "spare" | "workshop" | "withdrawn" | "unknown";
  household: string | null;
  from: string | null;
  to: string | null;
  text: string;
  number?: number | null;
  /// It was recorded here, and may be taken back.
  voidable?: boolean;
}

export interface UnitLine extends More {
  serial: string;
  stimulator: string | null;
  place: Place | null;
  homes: number;
  sets: number;
  faults: number;
  draws_too_much: number | null;
  measured: boolean;
  text: string;
}

export interface BenchValue {
  number: number;
  at: string;
  side: Side | null;
  what: string;
  amplitude?: number | null;
  expected: number | null;
  measured: number;
  unit: string;
  more_percent: number | null;
  text: string;
}

export interface UnitDocument extends UnitLine, LeavesOut {
  as_of: string;
  fresh: boolean;
  places: Place[];
  faults_list: { number?: number | null; voidable?: boolean; at: string; household: string | null; side: Side | null; what: string; text: string }[];
  bench_values: BenchValue[];
  homes_list: (More & { household: string; side: Side; sets: number; text: string })[];
  sets_list: (More & { household: string; side: Side; number: number; from: string; to: string; cell_type: string | null; lot: string | null; ended: string; text: string })[];
  profile: { number: number; approved_at: string; text: string } | null;
  findings: Finding[];
}

export interface LotLine extends More {
  lot: string;
  cell_type: string | null;
  sets: number;
  households: number;
  homes: string[];
  short: number;
  text: string;
}

export interface DuePart {
  household: string;
  part: string;
  /// Null: of no side.
  side: Side | null;
  in_use_since: string;
  days_in_use: number;
  due_on: string;
  expected_on: string;
  worn_out_in_30_days: number;
  text: string;
}

export interface WearOfKind {
  kind: string;
  worn_out: number;
  in_all: number;
  fit: { shape: number; shape_low: number; shape_high: number; scale_days: number; scale_low_days: number; scale_high_days: number; median_days: number } | null;
  text: string;
  due: DuePart[];
}

export const history_path = (household: string, side: string): string => `${household_path(household)}/sides/${side}/history`;
export const unit_path = (serial: string): string => `/units/${encodeURIComponent(serial)}`;

/// Every household write answers with its entry, which a void names.
export interface Recorded {
  entry?: { id: string | number };
}
