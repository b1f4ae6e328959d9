// SPDX-License-Identifier: MIT
// Mixed-up sides: the same record is made for the other side, then the mistaken one is voided. In this order, so
// that a lost signal between the two leaves a record too many, never one too few.
import { both_sides, type Entry, type Side } from "../api/types";
import { side_name } from "../words/names";
import type { Desk } from "./desk";
import type { Recorded } from "./intention";
import { tell } from "../words/catalogue/first";

const path_of_kind: Record<string, string> = {
  cell_change: "cell-changes", reading: "readings", paced: "paced", switched_off: "switched-off", settings: "settings",
};

export function side_of(entry: Entry): Side | null {
  const side = entry.body?.["side"];
  return (side === "left" || side === "right") && entry.kind in path_of_kind ? side : null;
}

const planned = new Set(["paced_more", "paced", "switched_off", "visit", "settings", "end", "hospital", "back_home", "unit"]);

/// Which forecasts taking an entry back changes, and where it is told. What names no side may change both.
export function told_of({ kind, body }: Entry): Pick<Recorded, "side" | "sides" | "about"> {
  const named = body?.["sides"];
  const side: Side | null = body?.["side"] === "left" || body?.["side"] === "right" ? body["side"] : null;
  if (planned.has(kind)) {
    const sides = Array.isArray(named) ? (named as Side[]) : side ? [side] : [...both_sides];
    return { side: null, sides, about: "plan" };
  }
  return { side, about: side ? "side" : kind === "stay" ? "away" : kind === "message" ? "agency" : "stock" };
}

const together_ms = 15 * 60_000;

/// The same thing recorded of the other side at about the same time: then both may have been mixed up.
export function partner_of(entry: Entry, entries: readonly Entry[]): Entry | null {
  const side = side_of(entry);
  if (!side) return null;
  const is_partner = (one: Entry): boolean =>
    one.kind === entry.kind && !one.voided_by && side_of(one) !== null && side_of(one) !== side && Math.abs(Date.parse(one.at) - Date.parse(entry.at)) <= together_ms;
  return entries.find((one) => one.id !== entry.id && is_partner(one)) ?? null;
}

const other_side = (side: Side | null): Side => (side === "left" ? "right" : "left");

/// Both records for the other side first, then both mistaken ones are voided: never one too few.
export async function exchange_both(desk: Desk, one: Entry, other: Entry): Promise<boolean> {
  for (const entry of [one, other]) {
    const side = other_side(side_of(entry));
    const words = tell("exchange.instead_of_the_other_side", { side: side_name[side], text: entry.text });
    if (!(await desk.mean({ path: path_of_kind[entry.kind] ?? "", body: { ...entry.body, side }, side, words }))) return false;
  }
  const undone = await Promise.all([one, other].map((entry) => desk.undo({ entry, side: side_of(entry), about: "side", words: entry.text })));
  return undone.every(Boolean);
}

export async function exchange_side(desk: Desk, entry: Entry, side: Side): Promise<boolean> {
  const path = path_of_kind[entry.kind] ?? "";
  const body = { ...entry.body, side };
  const moved = await desk.mean({ path, body, side, words: tell("exchange.instead_of_the_other_side", { side: side_name[side], text: entry.text }) });
  return moved && desk.undo({ entry, side: side === "left" ? "right" : "left", about: "side", words: entry.text });
}
