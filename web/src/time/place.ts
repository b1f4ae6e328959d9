// SPDX-License-Identifier: MIT
// Where the household is: at home, or on a stay away with clocks of its own. All times are told and asked by the
// clocks of that place, and the pages say which they are.
import type { Forecast, Household } from "../api/types";
import { wall_time } from "./zone";
import { tell } from "../words/catalogue/first";

export function zone_of(forecast: Forecast): string {
  return forecast.zone_now ?? forecast.zone;
}

/// "at home", or "in New York".
export function place_words(zone: string, home: string): string {
  return zone === home ? tell("place.at_home") : tell("place.in", { value: (zone.split("/").pop() ?? zone).replace(/_/g, " ") });
}

/// Whether this phone shows the clock of that place anyway: then whose clock it is need not be said.
export function shows_clock_of(zone: string, now: Date): boolean {
  const { hour, minute } = wall_time(now, zone);
  return hour === now.getHours() && minute === now.getMinutes();
}

/// The times at which cells can be changed, where the household now is.
export function changing_times_now(household: Household | null, now: Date): string[] {
  const stay = household?.stays?.find((one) => Date.parse(one.from) <= now.getTime() && now.getTime() < Date.parse(one.to));
  return stay?.changing_times?.length ? stay.changing_times : (household?.changing_times ?? ["21:30"]);
}

export function is_zone(name: string): boolean {
  try {
    return name.includes("/") && Boolean(new Intl.DateTimeFormat("en-GB", { timeZone: name }));
  } catch {
    return false;
  }
}
