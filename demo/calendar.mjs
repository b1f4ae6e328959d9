// SPDX-License-Identifier: MIT
// Days and wall-clock times of the invented household's zone.

export const hour_ms = 3_600_000;
export const day_ms = 24 * hour_ms;

const formats = new Map();
const offsets = new Map();

/** Minutes by which the zone is ahead of UTC at a moment. Days without a clock change are remembered. */
export function offsetMinutes(at, zone) {
  const day = Math.floor(at / day_ms);
  const key = `${zone} ${day}`;
  if (!offsets.has(key)) {
    const [first, last] = [exactOffset(day * day_ms, zone), exactOffset((day + 1) * day_ms - 60_000, zone)];
    offsets.set(key, first === last ? first : null);
  }
  return offsets.get(key) ?? exactOffset(at, zone);
}

function exactOffset(at, zone) {
  if (!formats.has(zone)) {
    formats.set(zone, new Intl.DateTimeFormat('en-GB', { timeZone: zone, hourCycle: 'h23', year: 'numeric', month: 'numeric', day: 'numeric',
      hour: 'numeric', minute: 'numeric' }));
  }
  const part = Object.fromEntries(formats.get(zone).formatToParts(new Date(at)).map(({ type, value }) => [type, Number(value)]));
  return (Date.UTC(part.year, part.month - 1, part.day, part.hour, part.minute) - Math.floor(at / 60_000) * 60_000) / 60_000;
}

/** The moment of a wall-clock time, `days` after a day "2026-03-01" (before it where negative). */
export function moment(day, days, minutesOfDay, zone) {
  const wall = Date.parse(`${day}T00:00:00Z`) + days * day_ms + Math.round(minutesOfDay * 60) * 1000;
  const guess = wall - offsetMinutes(wall, zone) * 60_000;
  return wall - offsetMinutes(guess, zone) * 60_000;
}

/** RFC 3339 with the zone's offset. */
export function rfc3339(at, zone) {
  const offset = offsetMinutes(at, zone);
  const pad = (number) => String(Math.floor(number)).padStart(2, '0');
  const local = new Date(at + offset * 60_000).toISOString().slice(0, 19);
  return `${local}${offset < 0 ? '-' : '+'}${pad(Math.abs(offset) / 60)}:${pad(Math.abs(offset) % 60)}`;
}

/** Minutes of the local day at a moment. */
export function minuteOfDay(at, zone) {
  return (Math.floor(at / 60_000) + offsetMinutes(at, zone) + 1440 * 40_000) % 1440;
}
