// SPDX-License-Identifier: MIT
// The documents of the planner's desk: lots, imports, waste and risk.
import type { PhraseCode, Quantiles, Side } from "../api/types";
import type { LeavesOut } from "./common/left_out";

export interface Recall {
  entry: number;
  at: string;
  why: string;
  by: string;
  to_call: number;
  called: number;
}

export interface LotLine {
  item: string;
  lot: string;
  expires: string | null;
  recalled: Recall | null;
  written_as: string[];
  in_homes: number;
  /// With a round that is loaded or has left, to homes that have not said what came.
  on_its_way: number;
  /// By the answers of homes that were to get it, and nobody has said where it is.
  did_not_come: number;
  /// Did not come, and was written off.
  lost: number;
  in_agency: number;
  homes: number;
  in_sides: number;
  used_sets: number;
  received: number;
  discarded: number;
  sentence: string;
}

export interface Lots extends LeavesOut {
  as_of: string;
  lots: LotLine[];
}

export interface LotDocument extends LeavesOut {
  as_of: string;
  item: string;
  lot: string;
  asked_as: string | null;
  written_as: string[];
  recalled: Recall | null;
  totals: { received: number; used: number; discarded: number; unaccounted: number; in_homes: number; on_its_way: number; did_not_come: number; lost: number; in_agency: number; left_with_erased: number };
  on_its_way: { household: string; area: string | null; stop: string | null; round: string; date: string; quantity: number }[];
  did_not_come: { household: string; area: string | null; stop: string; round: string; date: string; quantity: number; said_at: string | null }[];
  /// Sides whose row is being made anew: neither phrase nor date until it is.
  being_made: number;
  places: { household: string; area: string | null; stop: string | null; place: string; quantity: number; expires: string | null }[];
  sides: { household: string; area: string | null; stop: string | null; side: Side; since: string; change_by: string | null; phrase: PhraseCode | null }[];
  users: { household: string; area: string | null; stop: string | null; sets: number; last_at: string }[];
  did: { sets: number; homes: number; ratio: Quantiles<number> | null; sentence: string; limit: string };
}

export interface RecallCall {
  household: string;
  area: string | null;
  stop: string | null;
  sides: Side[];
  quantity: number;
  on_its_way: number;
  did_not_come: number;
  usable_left: number;
  called_at: string | null;
  called_by: string | null;
  why_first: string;
}

export interface RecallCalls extends LeavesOut {
  as_of: string;
  item: string;
  lot: string;
  recalled: Recall | null;
  calls: RecallCall[];
}

export interface Correction {
  entry: number;
  item: string;
  from: string;
  to: string;
  at: string;
  by: string;
}

export interface ImportProblem {
  file: string;
  line: number;
  column: number;
  column_name: string;
  code: string;
  severity: "error" | "ask";
  value: string;
  text: string;
}

export interface ImportCheck {
  can_apply: boolean;
  would: { households: number; items: number; counts: number };
  errors: number;
  asked: number;
  problems: ImportProblem[];
  more_problems: number;
}

export interface Waste extends LeavesOut {
  as_of: string;
  from: string;
  to: string;
  households: number;
  sets: number;
  cells_used: number;
  /// No share where no set came out.
  thrown_away: { sets: number; share: Quantiles<number> | null; cells_worth: Quantiles<number> | null };
  expired_cells: number;
  discarded_cells: number;
  /// Of the agency's own.
  store: { expired_cells: number; discarded_cells: number };
  unknown_sets: number;
  by_month: { month: string; sets: number; share: Quantiles<number> | null }[];
  most: { household: string; area: string | null; sets: number; share: Quantiles<number> }[];
  sentence: string;
  limit: string;
}

export interface CurvePoint {
  changing_times: number;
  risk_limit: number;
  sets_a_year: Quantiles<number>;
  charge_left_share: number;
  expected_run_outs_a_year: number;
}

export interface RiskCurve extends LeavesOut {
  as_of: string;
  households: number;
  sides: number;
  now: { risk_limit: number; sets_a_year: number };
  points: CurvePoint[];
  sentence: string;
  limit: string;
}
