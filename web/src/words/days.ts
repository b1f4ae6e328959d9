// SPDX-License-Identifier: MIT
// Names of days and months, from the catalogue: asked for the first of them, Intl gathers what it knows of all languages, which
// takes a phone longer than to draw the page.
import { tell } from "./catalogue/days";

const named = (key: "days.weekdays" | "days.weekdays_short" | "days.months_short", index: number): string => tell(key).split(" ")[index] ?? "";

/// 0: Sunday, as Date has it.
export const weekday_name = (weekday: number): string => named("days.weekdays", weekday);
export const short_weekday = (weekday: number): string => named("days.weekdays_short", weekday);

/// "Fri 27 Nov". Months count from 1.
export function calendar_words(weekday: number, day: number, month: number): string {
  return tell("days.calendar_day", { weekday: short_weekday(weekday), day, month: named("days.months_short", month - 1) });
}
