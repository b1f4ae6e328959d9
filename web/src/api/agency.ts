// SPDX-License-Identifier: MIT
// What a home told its agency, whether it was seen there, and what the agency brings: GET /households/{household}/messages.

export type About = "running_short" | "unit_trouble";

export interface Message {
  entry: number;
  about: About;
  at: string;
  note: string | null;
  seen_at: string | null;
}

export interface DeliveredLot {
  lot: string | null;
  packs: number;
  expires: string | null;
}

export interface DeliveryLine {
  item: string;
  packs: number;
  pieces: number;
  lots: DeliveredLot[];
}

export type DeliveryState = "planned" | "loaded" | "left" | "no_answer" | "received" | "not_received";

export interface Delivery {
  round: string;
  date: string;
  state: DeliveryState;
  lines: DeliveryLine[];
}

export interface Correspondence {
  messages: Message[];
  deliveries: Delivery[];
  closed_at: string | null;
}
