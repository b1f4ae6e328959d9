// SPDX-License-Identifier: MIT
// Plain names for the words of the wire.
import type { Plan, Side } from "../api/types";

export const side_name: Record<Side, string> = { left: "Left", right: "Right" };

export const reasons = {
  planned: "Planned",
  warning: "The unit warned",
  ran_out: "They ran out",
  fault: "A fault",
} as const;
export type Reason = keyof typeof reasons;

export const conditions = {
  pacing: "Pacing",
  idle: "On, not pacing",
  just_on: "Just switched on",
  off: "Off for a while",
} as const;
export type ConditionCode = keyof typeof conditions;

export const window_words = { expected: "expected", doubtful: "doubtful", not_expected: "not expected" } as const;

export function item_name(item: string): string {
  return item.charAt(0).toUpperCase() + item.slice(1).replace(/_/g, " ");
}

/// A sentence as it goes on after "Left: ".
export function after_colon(sentence: string): string {
  return sentence.charAt(0).toLowerCase() + sentence.slice(1);
}

/// A plan of one side names it, as the service's own text does for settings.
export function plan_words({ sides, text }: Pick<Plan, "sides" | "text">): string {
  const [side] = sides;
  if (!side || sides.length > 1 || text.startsWith(side_name[side])) return text;
  return `${side_name[side]}: ${after_colon(text)}`;
}

export function lot_words(lot?: string | null): string {
  return lot ? `lot ${lot}` : "no lot noted";
}

export function pieces(count: number, item: string): string {
  const one = item.replace(/_/g, " ");
  return count === 1 && one.endsWith("s") ? `1 ${one.slice(0, -1)}` : `${count} ${one}`;
}
