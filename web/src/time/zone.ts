// SPDX-License-Identifier: MIT
// Calendar time of the household's zone, whatever zone the phone is in. The service tells how its clocks stand around now; for
// other times and places Intl is asked, which the first time takes a phone longer than to draw the page.
import { date_format } from "./formats";

export interface Wall {
  year: number;
  month: number;
  day: number;
  hour: number;
  minute: number;
}

const parts: Intl.DateTimeFormatOptions = { hourCycle: "h23", year: "numeric", month: "numeric", day: "numeric", hour: "numeric", minute: "numeric", second: "numeric" };

/// Clocks are set forward and back at quarters of an hour, so within one the offset is the same; asking Intl each time costs
/// a phone more than all else in telling a time.
const quarter_ms = 15 * 60_000;
const offsets = new Map<string, number>();
const most_offsets = 1_000;

/// How the clocks of a zone stand for a while, as the service tells it.
export interface Clocks {
  from: string;
  to: string;
  offset_min: number;
}

interface Span {
  from: number;
  to: number;
  offset: number;
}

const told = new Map<string, Span[]>([["UTC", [{ from: -Infinity, to: Infinity, offset: 0 }]]]);

export function learn_clocks(zone: string, clocks: readonly Clocks[] | undefined): void {
  last = undefined;
  if (clocks?.length) told.set(zone, clocks.map(({ from, to, offset_min }) => ({ from: Date.parse(from), to: Date.parse(to), offset: offset_min * 60_000 })));
}

const holds = ({ from, to }: Span, ms: number): boolean => from <= ms && ms < to;
let last: { zone: string; span: Span } | undefined;  // the next time that is told lies mostly in the same

function told_offset(ms: number, zone: string): number | undefined {
  if (last?.zone === zone && holds(last.span, ms)) return last.span.offset;
  const span = told.get(zone)?.find((one) => holds(one, ms));
  if (span) last = { zone, span };
  return span?.offset;
}

export function wall_time(at: Date, zone: string): Wall {
  const ms = at.getTime();
  const shown = new Date(ms + (told_offset(ms, zone) ?? offset_by_intl(at, zone)));
  return { year: shown.getUTCFullYear(), month: shown.getUTCMonth() + 1, day: shown.getUTCDate(), hour: shown.getUTCHours(), minute: shown.getUTCMinutes() };
}

function offset_by_intl(at: Date, zone: string): number {
  const key = `${zone} ${Math.floor(at.getTime() / quarter_ms)}`;
  let offset = offsets.get(key);
  if (offset === undefined) {
    if (offsets.size >= most_offsets) offsets.clear();
    offset = as_if_utc(asked_of_intl(at, zone)) - Math.floor(at.getTime() / 60_000) * 60_000;
    offsets.set(key, offset);
  }
  return offset;
}

function asked_of_intl(at: Date, zone: string): Wall {
  const found: Record<string, number> = {};
  for (const part of date_format("en-GB", { ...parts, timeZone: zone }).formatToParts(at)) found[part.type] = Number(part.value);
  const { year = 0, month = 1, day = 1, hour = 0, minute = 0 } = found;
  return { year, month, day, hour, minute };
}

function as_if_utc(wall: Wall): number {
  return Date.UTC(wall.year, wall.month - 1, wall.day, wall.hour, wall.minute);
}

export function offset_minutes(at: Date, zone: string): number {
  const whole_minute = Math.floor(at.getTime() / 60_000) * 60_000;
  return Math.round((as_if_utc(wall_time(at, zone)) - whole_minute) / 60_000);
}

/// The moment a clock on the wall shows this. When clocks go back a time comes twice: the first is taken.
/// When they go forward a time is skipped: the moment as long after the change is taken.
export function moment_of(wall: Wall, zone: string): Date {
  const guess = as_if_utc(wall);
  const day_ms = 86_400_000;
  const before = offset_minutes(new Date(guess - day_ms), zone);
  const after = offset_minutes(new Date(guess + day_ms), zone);
  for (const offset of [Math.max(before, after), Math.min(before, after)]) {
    const at = new Date(guess - offset * 60_000);
    if (offset_minutes(at, zone) === offset) return at;
  }
  return new Date(guess - before * 60_000);
}

const two = (n: number): string => String(n).padStart(2, "0");

export function rfc3339(at: Date, zone: string): string {
  const offset = offset_minutes(at, zone);
  const wall = wall_time(at, zone);
  const size = Math.abs(offset);
  return `${wall_text(wall)}:00${offset < 0 ? "-" : "+"}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

/// As <input type="datetime-local"> writes it: 2026-11-24T21:30.
export function wall_text(wall: Wall): string {
  return `${wall.year}-${two(wall.month)}-${two(wall.day)}T${two(wall.hour)}:${two(wall.minute)}`;
}

export function read_wall(text: string): Wall | null {
  const match = /^(\d{4})-(\d\d)-(\d\d)T(\d\d):(\d\d)/.exec(text);
  if (!match) return null;
  const [year, month, day, hour, minute] = match.slice(1).map(Number) as [number, number, number, number, number];
  return { year, month, day, hour, minute };
}

/// The last time before `now` at which the household's clocks showed this changing time ("21:30").
export function last_evening(changing_time: string, now: Date, zone: string): Date {
  const [hour = 21, minute = 30] = changing_time.split(":").map(Number);
  const today = { ...wall_time(now, zone), hour, minute };
  const at = moment_of(today, zone);
  if (at.getTime() <= now.getTime()) return at;
  const yesterday = new Date(Date.UTC(today.year, today.month - 1, today.day - 1));
  return moment_of({ year: yesterday.getUTCFullYear(), month: yesterday.getUTCMonth() + 1, day: yesterday.getUTCDate(), hour, minute }, zone);
}
