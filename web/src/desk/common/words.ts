// SPDX-License-Identifier: MIT
// Plain words for the codes of the planner's desk.
import type { Attention, DeliveryState, Message, Why } from "../board_types";
import type { RoundState } from "../round_types";
import { pieces } from "../../words/names";

export const attention_words: Record<Attention, string> = {
  no_answer: "Delivery without answer", did_not_come: "Delivery did not come", message: "Message not seen", does_not_reach: "Does not reach its round",
  cannot_be_served: "Not served in time", no_area: "No area yet", no_forecast: "No forecast", count_is_old: "The last count is old", closed_with_open: "Closed, with something open",
};

export const about_words: Record<Message["about"], string> = { running_short: "Running short", unit_trouble: "Unit trouble" };

export const why_words: Record<Why, string> = {
  no_round: "no round in its area in that time", lead_time: "the rounds in that time leave too soon for a new stop", rounds_full: "every round in that time is full",
  stock_short: "the agency has not enough packs by then", kept_out: "a decision here rules out the rounds that would do", not_found: "no plan found; there may be one",
};

export const state_words: Record<RoundState, string> = {
  open: "not confirmed", planned: "confirmed", loaded: "loaded", left: "on its way", done: "done", cancelled: "cancelled",
};

export const delivery_words: Record<DeliveryState, string> = {
  planned: "confirmed", loaded: "loaded", left: "on its way, no answer yet", no_answer: "no answer for a day", received: "received", not_received: "not received",
};

export const count_of = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;
export const packs = (n: number): string => count_of(n, "pack");
export const of_item = (n: number, item: string): string => pieces(n, item);

export function list_words(words: readonly string[]): string {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
}
export const cap = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
