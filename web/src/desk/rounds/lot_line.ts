// SPDX-License-Identifier: MIT
// "2 packs of cells: 2 of lot A1, Jan 2033".
import type { LotPacks } from "../round_types";
import { month_words } from "../common/dates";
import { packs } from "../common/words";

export function lots_words(lots: readonly LotPacks[]): string {
  if (!lots.length || lots.every((one) => !one.lot)) return "";
  return lots.map((one) => `${one.packs} of lot ${one.lot}${one.recalled ? ", recalled" : ""}${one.expires ? `, ${month_words(one.expires)}` : ""}`).join("; ");
}

export function line_words({ item, packs: n, lots }: { item: string; packs: number; lots: readonly LotPacks[] }): string {
  const of = lots_words(lots);
  return `${packs(n)} of ${item}${of ? ` (${of})` : ""}`;
}
