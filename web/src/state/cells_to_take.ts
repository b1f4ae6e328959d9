// SPDX-License-Identifier: MIT
// Which cells to take for a side where the service names none, as the house was counted last.
import type { CellsToChange, Forecast, Household } from "../api/types";
import { cell_lots, lot_to_take } from "./lots";
import { unit_in_use } from "./units";

export function cells_to_take(household: Household | null, forecast: Forecast | null): CellsToChange {
  const cells = unit_in_use(household)?.cells_in_series ?? 2;
  const lot = lot_to_take(cell_lots(household, forecast), cells, household?.as_of);
  return { cells, lot: lot?.lot, place: lot?.place };
}
