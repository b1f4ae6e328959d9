// SPDX-License-Identifier: MIT
// The documents of the planner's desk: who needs what by when. Times RFC 3339, dates "2026-12-02".
import type { PhraseCode, Quantiles, Side, WindowState } from "../api/types";

export interface BoardSide {
  phrase: PhraseCode;
  change_by: string | null;
  /// The window of the night that is running; none after a warning or without a forecast.
  tonight?: WindowState | null;
  warned_at?: string | null;
  stopped_at?: string | null;
}

export interface ItemNeed {
  item: string;
  deliver_by: string | null;
  pieces: number;
  packs: number;
  in_house?: number;
  days: Quantiles<number> | null;
  please_count: boolean;
}

export interface Message {
  entry: number | string;
  about: "running_short" | "unit_trouble";
  at: string;
  note: string | null;
  seen_at: string | null;
}

export type DeliveryState = "planned" | "loaded" | "left" | "no_answer" | "received" | "not_received";

export interface BoardDelivery {
  round: string;
  date: string;
  state: DeliveryState;
  since: string;
}

export type Why = "no_round" | "lead_time" | "rounds_full" | "stock_short" | "kept_out" | "not_found";

export interface Unserved {
  item: string;
  packs: number;
  deliver_by: string;
  late_on: string | null;
  reasons: Why[];
}

export type Attention = "no_answer" | "did_not_come" | "message" | "does_not_reach" | "cannot_be_served" | "no_area" | "no_forecast" | "count_is_old" | "closed_with_open";

export interface BoardRow {
  household: string;
  area: string | null;
  stop: string | null;
  left: BoardSide | null;
  right: BoardSide | null;
  items: ItemNeed[];
  deliver_by: string | null;
  days_of_stock: number | null;
  last_count_at: string | null;
  last_record_at: string | null;
  asked_at: string | null;
  next_round: { round: string; date: string } | null;
  reaches_next_round: boolean | null;
  messages: Message[];
  deliveries: BoardDelivery[];
  cannot_be_served: Unserved[];
  closed_at: string | null;
  attention: Attention[];
  computed_at: string | null;
}

export interface Board {
  as_of: string;
  /// Of the agency's desks.
  zone_now: string;
  computed: number;
  of: number;
  version: string;
  next: string | null;
  rows: BoardRow[];
}

export interface ComesBack {
  what: string;
  pieces: number;
}

export interface HouseholdDesk {
  row: BoardRow;
  units: { serial: string; stimulator?: string }[];
  stock: { item: string; lot: string | null; pieces: number; expires: string | null; place: string | null }[];
  comes_back: ComesBack[];
  /// The most that the home keeps of an item.
  storage: { item: string; pieces: number }[];
}

export const both: readonly Side[] = ["left", "right"];
