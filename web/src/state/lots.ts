// SPDX-License-Identifier: MIT
// Which cells are in the house, and which of them to take: what expires first, of one lot that still holds a whole set.
// Never what is recalled, nor what is past its date.
import type { Forecast, Household, Lot } from "../api/types";

const never = "9999";
const by_date = (a: Lot, b: Lot): number => (a.expires ?? never).localeCompare(b.expires ?? never);

export const is_past_date = (lot: Lot, as_of: string | undefined): boolean => Boolean(as_of) && (lot.expires ?? never).slice(0, 7) < (as_of ?? "").slice(0, 7);

/// What expires first in front; what is to be set apart comes last.
export function cell_lots(household: Household | null, forecast: Forecast | null): Lot[] {
  const told = household?.lots?.filter((lot) => (lot.item ?? "cells") === "cells");
  const lots = told ?? forecast?.stock.find((item) => item.item === "cells")?.lots ?? [];
  const apart = (lot: Lot): number => (lot.recalled ? 2 : is_past_date(lot, household?.as_of) ? 1 : 0);
  return lots.filter((lot) => lot.quantity > 0).sort((a, b) => apart(a) - apart(b) || by_date(a, b));
}

export function lot_to_take(lots: readonly Lot[], cells_in_series: number, as_of?: string): Lot | undefined {
  return lots.filter((lot) => lot.quantity >= cells_in_series && !lot.recalled && !is_past_date(lot, as_of)).sort(by_date)[0];
}
