// SPDX-License-Identifier: MIT
// An invented agency as the planner's board tells it: most homes are quiet, and a few have a story.
import { at_home } from "../times.mjs";
import { chance, day, told } from "./chance.mjs";

export const areas = ["north", "south", "east", "fjord", "islands"];
const reference = (number) => `h-${String(number).padStart(6, "0")}`;
const stop_of = (number) => (number % 17 === 3 ? `S-${Math.floor(number / 34)}` : `S-${number + 400}`);

function side(now, next, at_risk) {
  const days = 1 + Math.floor(next() * 9);
  const change_by = (n) => told(at_home(now, n, 21, 30));
  if (at_risk === "warned") return { phrase: "change_now", change_by: null, tonight: null, warned_at: told(at_home(now, 0, 3, 10)), stopped_at: null };
  if (at_risk === "due") return { phrase: "change_before_tonight", change_by: change_by(0), tonight: "doubtful", warned_at: null, stopped_at: null };
  return { phrase: "expected_to_last_tonight", change_by: change_by(days), tonight: "expected", warned_at: null, stopped_at: null };
}

function needs(now, next, days) {
  const cells = { item: "cells", deliver_by: days === null ? null : day(now, days), pieces: 48, packs: 2, in_house: 2 * ((days ?? 70) + 6), days: { p05: (days ?? 70) + 2, p50: (days ?? 70) + 6, p95: (days ?? 70) + 11 }, please_count: false };
  const dressings = { item: "dressings", deliver_by: next() < 0.5 ? day(now, 9 + Math.floor(next() * 50)) : null, pieces: 20, packs: 1, in_house: 36, days: { p05: 30, p50: 36, p95: 44 }, please_count: false };
  return [cells, dressings];
}

const next_round_of = (now, area) => ({ round: `${area} morning ${day(now, 1 + areas.indexOf(area))}`, date: day(now, 1 + areas.indexOf(area)) });

function quiet(now, number, next) {
  const area = areas[number % areas.length];
  const days = next() < 0.2 ? null : 6 + Math.floor(next() * 48);
  const counted = Math.floor(next() * 26);
  return {
    household: reference(number), area, stop: stop_of(number), left: side(now, next, next() < 0.06 ? "due" : null), right: side(now, next, next() < 0.05 ? "due" : null),
    items: needs(now, next, days), deliver_by: days === null ? null : day(now, days), days_of_stock: days, last_count_at: told(at_home(now, -counted, 19, 10)), last_record_at: told(at_home(now, -1, 21, 40)),
    asked_at: null, next_round: next_round_of(now, area), reaches_next_round: true, messages: [], deliveries: [], cannot_be_served: [], closed_at: null, attention: [], computed_at: now.toISOString(),
  };
}

const message = (now, about, note, seen) => ({ entry: 41, about, at: told(at_home(now, 0, 8, 55)), note, seen_at: seen ? told(at_home(now, 0, 9, 12)) : null });

/// Each takes a quiet home and gives it its story.
const stories = [
  (row, now) => Object.assign(row, { attention: ["no_answer"], deliveries: [{ round: `${row.area} morning ${day(now, -3)}`, date: day(now, -3), state: "no_answer", since: told(at_home(now, -2, 14, 0)) }] }),
  (row, now) => Object.assign(row, { attention: ["no_answer"], deliveries: [{ round: `${row.area} morning ${day(now, -2)}`, date: day(now, -2), state: "no_answer", since: told(at_home(now, -1, 12, 20)) }] }),
  (row, now) => Object.assign(row, { attention: ["message"], messages: [message(now, "running_short", "three sets left, the last box was one short", false)] }),
  (row, now) => Object.assign(row, { attention: ["message", "does_not_reach"], messages: [message(now, "unit_trouble", null, false)], ...due(row, now, 0), right: side(now, chance(7), "warned") }),
  (row, now) => Object.assign(row, { attention: ["does_not_reach"], ...due(row, now, 1) }),
  (row, now) => Object.assign(row, { attention: ["does_not_reach"], ...due(row, now, 2) }),
  (row, now) => Object.assign(row, { attention: ["cannot_be_served"], ...due(row, now, 9), reaches_next_round: true, cannot_be_served: [{ item: "cells", packs: 2, deliver_by: day(now, 9), late_on: day(now, 16), reasons: ["rounds_full", "lead_time"] }] }),
  (row) => Object.assign(row, { attention: ["no_area"], area: null, stop: null, next_round: null, reaches_next_round: null }),
  (row, now) => Object.assign(row, { attention: ["count_is_old"], last_count_at: told(at_home(now, -64, 19, 0)) }),
  (row, now) => Object.assign(row, { messages: [message(now, "running_short", "asked for a box more before the holidays", true)] }),
];

function due(row, now, days) {
  const items = row.items.map((one) => (one.item === "cells" ? { ...one, deliver_by: day(now, days), days: { p05: days + 1, p50: days + 3, p95: days + 6 } } : one));
  return { items, deliver_by: day(now, days), days_of_stock: days + 1, reaches_next_round: false };
}

const order = ["no_answer", "message", "does_not_reach", "cannot_be_served"];
function urgency(row) {
  if (row.closed_at) return 99;
  const found = order.findIndex((one) => row.attention.includes(one));
  return found < 0 ? order.length : found;
}

export function sort_rows(rows) {
  return rows.sort((a, b) => urgency(a) - urgency(b) || (a.deliver_by ?? "9999").localeCompare(b.deliver_by ?? "9999") || a.household.localeCompare(b.household));
}

/// `homes` of them; the first few dozen have the stories.
export function make_rows(now, homes) {
  const next = chance(20261124);
  const rows = Array.from({ length: homes }, (_, index) => quiet(now, 101 + index, next));
  for (const [index, row] of rows.entries()) {
    if (index % 9 === 4 && index / 9 < stories.length * 2) stories[Math.floor(index / 9) % stories.length](row, now);
    else if (Date.parse(row.last_count_at) < now.getTime() - 24.5 * 86_400_000) row.attention = ["count_is_old"];
  }
  return sort_rows(rows);
}
