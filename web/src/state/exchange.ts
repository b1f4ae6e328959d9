// SPDX-License-Identifier: MIT
// Mixed-up sides: the same record is made for the other side, then the mistaken one is voided. In this order, so
// that a lost signal between the two leaves a record too many, never one too few.
import type { Entry, Side } from "../api/types";
import { side_name } from "../words/names";
import type { Desk } from "./desk";

const path_of_kind: Record<string, string> = {
  cell_change: "cell-changes", reading: "readings", paced: "paced", switched_off: "switched-off", settings: "settings",
};

export function side_of(entry: Entry): Side | null {
  const side = entry.body?.["side"];
  return (side === "left" || side === "right") && entry.kind in path_of_kind ? side : null;
}

export async function exchange_side(desk: Desk, entry: Entry, side: Side): Promise<boolean> {
  const path = path_of_kind[entry.kind] ?? "";
  const body = { ...entry.body, side };
  const moved = await desk.mean({ path, body, side, words: `${side_name[side]}, instead of the other side: ${entry.text}` });
  return moved && desk.undo({ entry, side: side === "left" ? "right" : "left", about: "side", words: entry.text });
}
