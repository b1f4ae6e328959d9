// SPDX-License-Identifier: MIT
// Undoing what was recorded of a household: a void that names the entry, as the home's own pages send it.
import { household_path } from "../api/client";
import type { Acting } from "../staff/act";
import type { Recorded } from "./api";
import { tell } from "../words/catalogue/bench";

export function undo_of_entry(household: string, recorded: Recorded, act: Acting, again: () => Promise<void>): (() => Promise<void>) | null {
  const entry = recorded.entry?.id;
  if (entry === undefined) return null;
  return async () => {
    if (await act.send(`${household_path(household)}/voids`, { entry })) act.tell({ words: tell("bench.undone"), undo: null });
    await again();
  };
}
