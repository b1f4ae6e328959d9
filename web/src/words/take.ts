// SPDX-License-Identifier: MIT
// Which cells to take and what to do with them, from what the service names of the lot that expires first.
import type { CellsToChange, Side } from "../api/types";

/// "from the hall cupboard"; a name ("Grandma's room") goes without the article, and "home" is where they are.
function from_words(place: string | null | undefined): string {
  if (!place || place === "home") return "";
  return /^[a-z]/.test(place) && !/^(the|a|an) /.test(place) ? `from the ${place}` : `from ${place}`;
}

export function take_words({ cells, lot, place }: CellsToChange, side: Side): string {
  const pieces = `Take ${cells} new ${cells === 1 ? "cell" : "cells"}`;
  const which = lot ? `${pieces}, lot ${lot}` : cells === 1 ? pieces : `${pieces} of one type and lot`;
  const from = from_words(place);
  const take = from ? `${which}${lot ? "," : ""} ${from}.` : `${which}.`;
  if (cells === 1) return `${take} Change the ${side} cell.`;
  return `${take} Change ${cells === 2 ? "both" : `all ${cells}`} ${side} cells together.`;
}
