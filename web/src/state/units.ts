// SPDX-License-Identifier: MIT
// Which of the household's units is in use.
import type { Household, UnitInUse } from "../api/types";

export function unit_in_use(household: Household | null): UnitInUse | null {
  const now = household?.as_of ? Date.parse(household.as_of) : Date.now();
  const units = household?.units?.filter((unit) => !unit.spare && Date.parse(unit.from) <= now) ?? [];
  return [...units].sort((a, b) => Date.parse(b.from) - Date.parse(a.from))[0] ?? null;
}
