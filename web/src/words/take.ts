// SPDX-License-Identifier: MIT
// Which cells to take and what to do with them, from what the service names of the lot that expires first.
import type { CellsToChange, Side } from "../api/types";
import { tell } from "./catalogue/first";

/// "from the hall cupboard"; a name ("Grandma's room") goes without the article, and "home" is where they are.
function from_words(place: string | null | undefined): string {
  if (!place || place === "home") return "";
  return /^[a-z]/.test(place) && !/^(the|a|an) /.test(place) ? tell("take.from_the", { place }) : tell("take.from", { place });
}

export function take_words({ cells, lot, place }: CellsToChange, side: Side): string {
  const pieces = tell("take.take_new", { count: cells });
  const which = lot ? tell("take.lot", { pieces, lot }) : cells === 1 ? pieces : tell("take.of_one_type_and_lot", { pieces });
  const from = from_words(place);
  const take = from ? `${which}${lot ? "," : ""} ${from}.` : `${which}.`;
  if (cells === 1) return tell("take.change_the_cell", { take, side });
  return cells === 2 ? tell("take.change_both", { take, side }) : tell("take.change_all", { take, cells, side });
}
