// SPDX-License-Identifier: MIT
// A finding as the service tells it: what, where, how sure, and what became of it.
import type { LeavesOut } from "./left_out";

export type State = "open" | "seen" | "taken_on" | "closed";
export type Reason = "cause_removed" | "explained" | "nothing_found" | "cannot_tell";
export type Step = "swap_units" | "other_lot" | "meter_at_removal" | "measure_unit" | "read_settings" | "note_hours" | "ask_home";
export type Scope = "left" | "right" | "both";

export interface Cause {
  cause: string;
  words: string;
  probability: number;
  probability_text: string;
}

export interface StateChange {
  state: State;
  at: string;
  who: string;
  reason: Reason | null;
  note: string | null;
  text: string;
}

export interface Finding {
  id: string;
  kind: string;
  title: string;
  household: string | null;
  scope: Scope;
  /// A unit's serial or a lot.
  subject: string | null;
  raised_at: string;
  from: string | null;
  ended_at: string | null;
  more_percent: number | null;
  low_percent: number | null;
  high_percent: number | null;
  probability?: number | null;
  causes: Cause[];
  named: string | null;
  verdict: string;
  evidence: string[];
  homes: string[];
  next: { step: Step; words: string; bits: number }[];
  state: State;
  reopens: string | null;
  history: StateChange[];
  /// Sent back as `follows`, so that two people do not overwrite each other.
  newest: number;
  text: string;
}

export interface Findings extends LeavesOut {
  /// null: nothing was reviewed yet since the service started.
  as_of: string | null;
  fresh: boolean;
  waiting: number;
  counts: Record<State, number>;
  findings: Finding[];
}
