// SPDX-License-Identifier: MIT
// Mixed-up sides: the same record is made for the other side, then the mistaken one is voided. In this order, so
// that a lost signal between the two leaves a record too many, never one too few.
import { both_sides, type Entry, type Side } from "../api/types";
import { side_name } from "../words/names";
import type { Desk } from "./desk";
import type { Recorded } from "./intention";

const path_of_kind: Record<string, string> = {
  cell_change: "cell-changes", reading: "readings", paced: "paced", switched_off: "switched-off", settings: "settings",
};

export function side_of(entry: Entry): Side | null {
  const side = entry.body?.["side"];
  return (side === "left" || side === "right") && entry.kind in path_of_kind ? side : null;
}

const planned = new Set(["paced_more", "visit", "settings", "end", "hospital", "back_home", "unit"]);

/// Which forecasts taking an entry back changes, and where it is told. What names no side may change both.
export function told_of({ kind, body }: Entry): Pick<Recorded, "side" | "sides" | "about"> {
  const named = body?.["sides"];
  const side: Side | null = body?.["side"] === "left" || body?.["side"] === "right" ? body["side"] : null;
  if (planned.has(kind)) {
    const sides = Array.isArray(named) ? (named as Side[]) : side ? [side] : [...both_sides];
    return { side: null, sides, about: "plan" };
  }
  return { side, about: side ? "side" : kind === "stay" ? "away" : "stock" };
}

export async function exchange_side(desk: Desk, entry: Entry, side: Side): Promise<boolean> {
  const path = path_of_kind[entry.kind] ?? "";
  const body = { ...entry.body, side };
  const moved = await desk.mean({ path, body, side, words: `${side_name[side]}, instead of the other side: ${entry.text}` });
  return moved && desk.undo({ entry, side: side === "left" ? "right" : "left", about: "side", words: entry.text });
}
