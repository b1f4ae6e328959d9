// SPDX-License-Identifier: MIT
// A warning or a stop counts from the moment it was noted, sent or not. Only a change of that side's cells ends it, and that
// counts from then on too.
import { both_sides, type Forecast, type Side, type SideForecast } from "../api/types";
import type { Intention } from "./intention";

const at_of = ({ body, meant_ms }: Intention): string => String(body["at"] ?? new Date(meant_ms).toISOString());
const ms_of = (at: string | null | undefined): number => (at ? Date.parse(at) : 0);
const later = (one: string | null | undefined, other: string): string => (one && ms_of(one) > ms_of(other) ? one : other);
const unless_by = (at: string | null | undefined, changed: string): string | null => (at && ms_of(at) > ms_of(changed) ? at : null);

/// What is on its way for the side's cells, in the order of its times, and of one time as it was meant. Another note may be
/// older than the cells that are in now: then it says nothing of them.
function noted(told: SideForecast, side: Side, waiting: readonly Intention[]): Intention[] {
  const of_cells = waiting.filter((one) => one.side === side && ["readings", "cell-changes"].includes(one.path));
  return of_cells.filter((one) => ms_of(at_of(one)) >= ms_of(told.cells_since)).sort((a, b) => ms_of(at_of(a)) - ms_of(at_of(b)));
}

/// A side as the service told it, with the alarms on their way. Of a side that has one of those nothing else holds.
export function with_its_alarms(told: SideForecast, side: Side, waiting: readonly Intention[]): SideForecast {
  let { warned_at, stopped_at } = told;
  for (const one of noted(told, side, waiting)) {
    const at = at_of(one);
    if (one.path === "cell-changes") [warned_at, stopped_at] = [unless_by(warned_at, at), unless_by(stopped_at, at)];
    if (one.body["warning"]) warned_at = later(warned_at, at);
    if (one.body["stopped"]) stopped_at = later(stopped_at, at);
  }
  if (warned_at === told.warned_at && stopped_at === told.stopped_at) return told;
  const alarm = { ...told, warned_at, stopped_at };
  if (!warned_at && !stopped_at) return alarm;
  return { ...alarm, phrase: "change_now", sentence: "", limit: "", because: [], questions: [], nights: [], change_by: null, no_later_than: null };
}

/// Whether the cells that the service knew have come out by what is on its way.
export const changed = (told: SideForecast, side: Side, waiting: readonly Intention[]): boolean => noted(told, side, waiting).some((one) => one.path === "cell-changes");

export function with_alarms(forecast: Forecast, waiting: readonly Intention[]): Forecast {
  if (!waiting.length) return forecast;
  const [left, right] = both_sides.map((side) => with_its_alarms(forecast.sides[side], side, waiting)) as [SideForecast, SideForecast];
  return { ...forecast, sides: { left, right } };
}
