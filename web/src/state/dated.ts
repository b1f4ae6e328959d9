// SPDX-License-Identifier: MIT
// A forecast that was fetched yesterday names yesterday's night "tonight". The service sends a row for each coming night;
// here the row of tonight is picked by the household's clock, and the words follow the row: never to a calmer phrase than
// the forecast had, and after the last row there is no forecast.
import { both_sides, type Forecast, type Side, type SideForecast } from "../api/types";
import { zone_of } from "../time/place";
import { moment_of, wall_time } from "../time/zone";

const people_are_up_h = 6;
const small_hours_h = 3;

/// As the service has it (model/life/changing_times.hpp): the small hours that "tonight" means. At 03:10 those that run,
/// from 06:00 the next ones.
export function small_hours_of_tonight(zone: string, now: Date): Date {
  const wall = wall_time(now, zone);
  const day = new Date(Date.UTC(wall.year, wall.month - 1, wall.day + (wall.hour < people_are_up_h ? 0 : 1)));
  return moment_of({ year: day.getUTCFullYear(), month: day.getUTCMonth() + 1, day: day.getUTCDate(), hour: small_hours_h, minute: 0 }, zone);
}

function side_by_the_clock(told: SideForecast, small_hours: number): SideForecast {
  const nights = told.nights ?? [];
  if (!nights.length) return told;
  const tonight = nights.findIndex((night) => Date.parse(night.from) <= small_hours && small_hours < Date.parse(night.to));
  const row = nights[tonight];
  if (!row) return { ...told, phrase: "no_forecast", sentence: "", limit: "", nights: [], questions: [], beyond: true };
  if (row.tonight) return told;
  const dated = { ...told, nights: nights.slice(tonight).map((night, index) => ({ ...night, tonight: index === 0 })) };
  const lasts = row.window === "expected" && told.change_by && Date.parse(told.change_by) > Date.parse(row.from);
  if (told.phrase !== "expected_to_last_tonight" || lasts) return dated;
  return { ...dated, phrase: "change_before_tonight", sentence: "", limit: "" };
}

export function by_the_clock(forecast: Forecast, now: Date): Forecast {
  const small_hours = small_hours_of_tonight(zone_of(forecast), now).getTime();
  const [left, right] = both_sides.map((side) => side_by_the_clock(forecast.sides[side], small_hours)) as [SideForecast, SideForecast];
  if (left === forecast.sides.left && right === forecast.sides.right) return forecast;  // the same: nothing is measured anew
  return { ...forecast, sides: { left, right } satisfies Record<Side, SideForecast> };
}
