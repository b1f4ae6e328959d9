// SPDX-License-Identifier: MIT
// Dates and times at a desk, in words. A time that carries its offset is told by the clock that it names (a household's,
// or the agency's); one in UTC, and today, by the agency's. Hundreds stand on one page: no formatter is made for each.
import { at_the_agency } from "./zone";

const weekdays = ["Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"];
const months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
const day_ms = 86_400_000;
const half_a_year_days = 183;

/// Days since 1970 of "2026-12-02" or of the day part of a time.
export const day_number = (date: string): number => Math.round(Date.parse(`${date.slice(0, 10)}T00:00:00Z`) / day_ms);

const two = (n: number): string => String(n).padStart(2, "0");

/// "2026-12-02T21:30" by the clock that the time was told by.
function wall_of(at: string): string {
  if (!at.endsWith("Z")) return at.slice(0, 16);
  const here = new Date(at);
  const there = at_the_agency(here);
  if (there) return there;
  return `${here.getFullYear()}-${two(here.getMonth() + 1)}-${two(here.getDate())}T${two(here.getHours())}:${two(here.getMinutes())}`;
}

export function today_of(now: Date): string {
  return wall_of(now.toISOString()).slice(0, 10);
}

export function date_words(date: string, today: string): string {
  const number = day_number(date);
  const at = new Date(number * day_ms);
  const words = `${weekdays[at.getUTCDay()]} ${at.getUTCDate()} ${months[at.getUTCMonth()]}`;
  return Math.abs(number - day_number(today)) > half_a_year_days ? `${words} ${at.getUTCFullYear()}` : words;
}

/// "today", "tomorrow", "in 5 days", "3 days ago".
export function from_today(date: string, today: string): string {
  const days = day_number(date) - day_number(today);
  if (days === 0) return "today";
  if (days === 1) return "tomorrow";
  if (days === -1) return "yesterday";
  return days > 0 ? `in ${days} days` : `${-days} days ago`;
}

export function moment(at: string, today: string): string {
  const wall = wall_of(at);
  const day = day_number(wall) - day_number(today);
  const clock = wall.slice(11);
  if (day === 0) return `today ${clock}`;
  if (day === 1) return `tomorrow ${clock}`;
  if (day === -1) return `yesterday ${clock}`;
  return `${date_words(wall, today)}, ${clock}`;
}

export const clock_of = (at: string): string => wall_of(at).slice(11);
export const days_since = (at: string, today: string): number => day_number(today) - day_number(wall_of(at));

/// The Monday of its week.
export function week_of(date: string): string {
  const number = day_number(date);
  const back = (new Date(number * day_ms).getUTCDay() + 6) % 7;
  return new Date((number - back) * day_ms).toISOString().slice(0, 10);
}

/// "2033-01" as "Jan 2033".
export function month_words(month: string): string {
  return `${months[Number(month.slice(5, 7)) - 1] ?? month} ${month.slice(0, 4)}`;
}
