// SPDX-License-Identifier: MIT
// Times of the invented households, whose zone is Europe/Oslo.

const hour_ms = 3_600_000;
export const hours_later = (at, hours) => new Date(at.getTime() + hours * hour_ms);
export const days_later = (at, days) => hours_later(at, 24 * days);

function oslo(options) {
  return new Intl.DateTimeFormat("en-GB", { timeZone: "Europe/Oslo", hourCycle: "h23", ...options });
}

/// How the clocks at home stand, from 200 days ago to 400 days ahead (EU Directive 2000/84/EC: the last Sundays of March and October).
export function clocks_at_home(now) {
  const last_sunday = (year, month) => new Date(Date.UTC(year, month + 1, 0, 1) - new Date(Date.UTC(year, month + 1, 0)).getUTCDay() * 24 * hour_ms);
  const years = [-1, 0, 1, 2].map((more) => now.getUTCFullYear() + more);
  const turns = years.flatMap((year) => [{ at: last_sunday(year, 2), offset_min: 120 }, { at: last_sunday(year, 9), offset_min: 60 }]);
  return turns.slice(0, -1).map(({ at, offset_min }, index) => ({ from: at.toISOString(), to: turns[index + 1].at.toISOString(), offset_min }));
}

/// So many days from today, at this time by the clock at home (changes of clock aside).
export function at_home(now, days, hour, minute) {
  const wall = Object.fromEntries(oslo({ hour: "numeric", minute: "numeric", second: "numeric" }).formatToParts(now).map((part) => [part.type, Number(part.value)]));
  const midnight = now.getTime() - ((wall.hour * 60 + wall.minute) * 60 + wall.second) * 1000 - (now.getTime() % 1000);
  return new Date(midnight + ((days * 24 + hour) * 60 + minute) * 60_000);
}

export const day_label = (at) => oslo({ weekday: "short" }).format(at).slice(0, 2);
export const clock_at_home = (at) => oslo({ hour: "2-digit", minute: "2-digit" }).format(at);

/// "Fri 27 Nov, 21:30".
export function day_and_time(at) {
  const part = (options) => oslo(options).format(at);
  return `${part({ weekday: "short" })} ${part({ day: "numeric" })} ${part({ month: "short" })}, ${clock_at_home(at)}`;
}

/// "Thu 10 Dec" of a date such as 2026-12-10.
export const day_of_date = (date) => day_and_time(new Date(`${date}T11:00:00Z`)).split(",")[0];
