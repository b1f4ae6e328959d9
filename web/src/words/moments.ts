// SPDX-License-Identifier: MIT
// How the pages say when: "today 21:40", "yesterday 21:35", "Fri 27 Nov, 21:30", always in the household's zone.
import { wall_time } from "../time/zone";
import { tell } from "./catalogue/first";
import { calendar_words, short_weekday, weekday_name } from "./days";

function day_number(at: Date, zone: string): number {
  const wall = wall_time(at, zone);
  return Math.round(Date.UTC(wall.year, wall.month - 1, wall.day) / 86_400_000);
}

const weekday_of = (at: Date, zone: string): number => (((day_number(at, zone) + 4) % 7) + 7) % 7;  // 1 January 1970 was a Thursday

export function clock(at: Date, zone: string): string {
  const { hour, minute } = wall_time(at, zone);
  return [hour, minute].map((part) => String(part).padStart(2, "0")).join(":");
}

export function calendar_day(at: Date, zone: string): string {
  const { day, month } = wall_time(at, zone);
  return calendar_words(weekday_of(at, zone), day, month);
}

/// Under a window of the strip: two letters or a word, and below it the day of the month, as a weekday comes twice in ten nights.
export function short_day(at: Date, zone: string, word = short_weekday(weekday_of(at, zone)).slice(0, 2)): string {
  return `${word}\n${wall_time(at, zone).day}`;
}

const day_ms = 86_400_000;

/// The night before the small hours of a day, by both of its days: "Tue to Wed". After midnight it is the same as before.
export function night_words(small_hours: Date, zone: string): string {
  const weekday = (at: Date): string => short_weekday(weekday_of(at, zone));
  return tell("moments.night", { from: weekday(new Date(small_hours.getTime() - day_ms)), to: weekday(small_hours) });
}

function days_from_now(at: Date, now: Date, zone: string): number {
  return day_number(at, zone) - day_number(now, zone);
}

const half_a_year_days = 183;

/// A day more than half a year away is told with its year: the same date of another year lies nearer.
function day_words(at: Date, now: Date, zone: string): string {
  const near: Record<number, string> = { [-1]: tell("moments.yesterday"), 0: tell("moments.today"), 1: tell("moments.tomorrow") };
  const days = days_from_now(at, now, zone);
  const year = Math.abs(days) > half_a_year_days ? ` ${wall_time(at, zone).year}` : "";
  return near[days] ?? `${calendar_day(at, zone)}${year}`;
}

/// Clock and day apart, for a sentence that has both: "today", "yesterday", "on Tue 24 Nov". Without `now` the day is always
/// named, as on paper.
export function day_of(at: Date, now: Date | null, zone: string): string {
  const day = now ? day_words(at, now, zone) : calendar_day(at, zone);
  return /\d/.test(day) ? tell("moments.on_day", { day }) : day;
}

export function moment_words(at: Date, now: Date, zone: string): string {
  const day = day_words(at, now, zone);
  return /\d/.test(day) ? `${day}, ${clock(at, zone)}` : `${day} ${clock(at, zone)}`;
}

/// A bare date such as "2026-12-10" belongs to no zone: it is that day.
export function date_words(date: string): string {
  return calendar_day(new Date(`${date.slice(0, 10)}T12:00:00Z`), "UTC");
}

export function is_past_or_today(date: string, now: Date, zone: string): boolean {
  const wall = wall_time(now, zone);
  return Date.parse(`${date.slice(0, 10)}T00:00:00Z`) <= Date.UTC(wall.year, wall.month - 1, wall.day);
}

function heading_message(hour: number) {
  if (hour < 5) return "moments.weekday_night";
  if (hour < 12) return "moments.weekday_morning";
  return hour < 18 ? "moments.weekday_afternoon" : "moments.weekday_evening";
}

export function heading_words(now: Date, zone: string): string {
  const message = heading_message(wall_time(now, zone).hour);
  const weekday = weekday_name(weekday_of(now, zone));
  const before = weekday_name(weekday_of(new Date(now.getTime() - day_ms), zone));
  const words = tell(message, { weekday, before, clock: clock(now, zone) });
  return words.charAt(0).toUpperCase() + words.slice(1);
}

export function age_words(ms: number): string {
  const minutes = Math.max(0, Math.round(ms / 60_000));
  if (minutes < 1) return tell("moments.just_now");
  if (minutes < 60) return tell("moments.min_ago", { minutes });
  const hours = Math.floor(minutes / 60);
  return hours < 48 ? tell("moments.h_ago", { hours }) : tell("moments.days_ago", { count: Math.floor(hours / 24) });
}
