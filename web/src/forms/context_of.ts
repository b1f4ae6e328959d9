// SPDX-License-Identifier: MIT
// What the household's page knows, as forms and times need it: with the warnings and stops that are still on their way, so
// that a change after one is asked about as such.
import { with_alarms } from "../state/alarms";
import type { Desk } from "../state/desk";
import { changing_times_now, place_words } from "../time/place";
import type { Context } from "./context";

export function context_of(desk: Desk): Context {
  const { household, forecast, told, now, waiting } = desk.value;
  const home = household?.zone ?? forecast?.zone ?? "UTC";
  const zone = forecast?.zone_now ?? home;
  return { household, forecast: forecast && with_alarms(forecast, waiting), told, zone, place: place_words(zone, home), changing_times: changing_times_now(household, now) };
}
