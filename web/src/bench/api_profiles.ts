// SPDX-License-Identifier: MIT
// Profiles: what is proposed, what the service reads in it, who approves, and which versions are in force.
import type { Side } from "../api/types";

export interface Problem {
  line: number | null;
  column: number | null;
  place: string;
  reason: string;
}

export interface Residual {
  line: number | null;
  what: string;
  published?: number | null;
  measured?: number | null;
  fitted: number;
  error_percent: number;
  text: string;
}

export interface Fit {
  usable: boolean;
  reasons: string[];
  parameters: { name: string; value: number; standard_error: number | null; unit: string }[];
  range_text: string;
  mean_error_percent: number | null;
}

/// What was read, nothing stored.
export interface ReadBack {
  problems: Problem[];
  usable: boolean;
  discharges?: unknown[];
  fit?: Fit | null;
  residuals: Residual[];
  text: string;
}

export type ProposalKind = "cell" | "unit" | "stimulator" | "steps";

export interface Move {
  household: string;
  side: Side;
  change_by_before: string | null;
  change_by_after: string | null;
  later: boolean;
  text: string;
}

export interface Proposal {
  number: number;
  kind: ProposalKind;
  subject: string;
  state: "waiting" | "approved" | "refused";
  version: number | null;
  proposed_at: string;
  proposed_by_you: boolean;
  proposer: string | null;
  may_decide: boolean;
  decided_at: string | null;
  decider: string | null;
  reason: string | null;
  body?: Record<string, unknown>;
  residuals?: Residual[] | null;
  fit?: Fit | null;
  text: string;
  effect?: { state: "computing" | "done"; looked_at: number; of: number; moves: Move[]; text: string } | null;
}

export interface Version {
  kind: ProposalKind;
  subject: string;
  version: number;
  number: number;
  approved_at: string;
  proposer: string | null;
  decider: string | null;
  text: string;
  in_force: boolean;
}

export interface BurstRow {
  side: Side;
  amplitude: string;
  current_mA: string;
}

export interface GaugeRow {
  set_V: string;
  percent: string;
}
