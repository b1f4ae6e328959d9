// SPDX-License-Identifier: MIT
// Plain names for the words of the wire.
import type { Side } from "../api/types";

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

export function lot_words(lot?: string | null): string {
  return lot ? `lot ${lot}` : "no lot noted";
}

export function pieces(count: number, item: string): string {
  const one = item.replace(/_/g, " ");
  return count === 1 && one.endsWith("s") ? `1 ${one.slice(0, -1)}` : `${count} ${one}`;
}
