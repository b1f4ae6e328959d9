// SPDX-License-Identifier: MIT
// Plain names for the words of the wire.
import type { Plan, Side } from "../api/types";
import { tell } from "./catalogue/first";

export const side_name: Record<Side, string> = { left: tell("names.left"), right: tell("names.right") };

export const reasons = {
  planned: tell("names.planned"),
  warning: tell("names.the_unit_warned"),
  ran_out: tell("names.they_ran_out"),
  fault: tell("names.a_fault"),
} as const;
export type Reason = keyof typeof reasons;

export const conditions = {
  pacing: tell("names.pacing"),
  idle: tell("names.on_not_pacing"),
  just_on: tell("names.just_switched_on"),
  off: tell("names.off_for_a_while"),
} as const;
export type ConditionCode = keyof typeof conditions;

export const window_words = { expected: tell("names.expected"), doubtful: tell("names.doubtful"), not_expected: tell("names.not_expected") } as const;

/// What every household has; other things have the names that the agency gave them.
const usual = ["cells", "antennas", "dressings", "tape"] as const;
const is_usual = (item: string): item is (typeof usual)[number] => (usual as readonly string[]).includes(item);

export function item_name(item: string): string {
  if (is_usual(item)) return tell(`names.item_${item}`);
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
  return lot ? tell("names.lot", { lot }) : tell("names.no_lot_noted");
}

/// A place by the name that the household gave it; "home" is everyone's.
export function place_name(place?: string | null): string | null | undefined {
  return place === "home" ? tell("names.place_home") : place;
}

export function pieces(count: number, item: string): string {
  if (is_usual(item)) return tell(`names.count_${item}`, { count });
  const one = item.replace(/_/g, " ");
  return count === 1 && one.endsWith("s") ? `1 ${one.slice(0, -1)}` : `${count} ${one}`;
}
