// SPDX-License-Identifier: MIT
// The documents of the planner's desk: calendar, agency stock, plan, rounds.
import type { DeliveryState, Why } from "./board_types";
import type { Weekday } from "../api/types";

export interface Rule {
  name: string;
  area: string;
  weekdays: Weekday[];
  dates: string[];
  not_on: string[];
  stops: number;
  lead_days: number;
}

export interface ItemOfRounds {
  item: string;
  pieces_per_pack: number;
  pieces_per_set: number;
}

export type RoundState = "open" | "planned" | "loaded" | "left" | "done" | "cancelled";

export interface CalendarRound {
  round: string;
  area: string;
  date: string;
  stops_at_most: number;
  lead_days: number;
  last_day_to_plan: string;
  state: RoundState;
  stops: number;
  number: number;
}

export interface Calendar {
  number: number;
  horizon_days: number;
  rules: Rule[];
  items: ItemOfRounds[];
  areas: string[];
  rounds: CalendarRound[];
  /// Of the last fortnight.
  recent?: CalendarRound[];
  cover_days?: number;
  zone?: string;
}

export interface AgencyLot {
  item: string;
  lot: string;
  packs: number;
  pieces_per_pack: number;
  expires: string | null;
  arrives: string | null;
  recalled: boolean;
  expired: boolean;
  please_count?: boolean;
}

export interface AgencyStock {
  lots: AgencyLot[];
  looked_at: boolean;
}

export interface LotPacks {
  lot: string;
  packs: number;
  expires: string | null;
  /// By now, whenever the round was planned.
  recalled?: boolean;
}

export interface PlanLine {
  household: string;
  item: string;
  packs: number;
  late: boolean;
  lots: LotPacks[];
}

export interface PlanStop {
  stop: string;
  households: string[];
  confirmed: boolean;
  pinned: boolean;
  late: boolean;
  lines: PlanLine[];
}

export interface PlanRound {
  round: string;
  area: string;
  date: string;
  state: RoundState;
  stops_at_most: number;
  stops: PlanStop[];
  changed: boolean;
  number: number;
}

export interface Left {
  household: string;
  stop: string;
  item: string;
  packs: number;
  deliver_by: string;
  late_on: string | null;
  risk: number;
  reasons: Why[];
  /// The same in a sentence.
  text?: string;
}

export interface StopOnRound {
  stop: string;
  round: string;
}

export interface PlanFigures {
  visits: number;
  visits_bound: number | null;
  gap: number | null;
  risk: number;
  risk_bound: number;
  confirmed: number;
  moved: number;
  proven: boolean;
  least_visits_proven: boolean;
  stock_short: boolean;
  seconds: number;
}

export interface Plan {
  plan: string;
  as_of: string;
  figures: PlanFigures;
  rounds: PlanRound[];
  moved: StopOnRound[];
  left: Left[];
  not_planned: { household: string; what: string; remedy: string }[];
}

export interface Remedy {
  kind: "extra_stop" | "other_areas_round" | "extra_round" | "more_packs";
  round?: string;
  area?: string;
  date?: string;
  item?: string;
  packs?: number;
  extra_visits: number;
  risk_after: number;
  text: string;
}

export interface Change {
  plan: string;
  stop: string;
  from?: string;
  to?: string;
}

export interface Consequence {
  falls: Left[];
  no_longer: Left[];
  risk_more: number;
  over_the_limit: boolean;
  leaves_too_soon: boolean;
  replanned: { visits_more: number; risk_more: number; moves: StopOnRound[]; left: Left[] };
  text: string[];
}

/// What was said of packs that did not come.
export type Whereabouts = "not_known" | "came_back" | "lost";

export interface RoundLine {
  household: string;
  item: string;
  packs: number;
  pieces: number;
  lots: LotPacks[];
  state: DeliveryState;
  answered_at: string | null;
  /// Pieces, by the home's answer, of which nobody has said where they are.
  did_not_come: number;
  packs_are: Whereabouts;
}

export interface RoundStop {
  stop: string;
  lines: RoundLine[];
}

export interface Round {
  round: string;
  area: string;
  date: string;
  state: RoundState;
  stops_at_most: number;
  number: number;
  as_of?: string;
  picking: { item: string; lot: string; packs: number; pieces: number; expires: string | null; recalled?: boolean }[];
  stops: RoundStop[];
  history: { state: RoundState; at: string; number: number }[];
}
