// SPDX-License-Identifier: MIT
// Invented households, each in one state, as the service would tell them at `now`. Nothing here is computed by a
// model: these are pictures of answers, so that every state of the page can be looked at.
import { readFileSync } from "node:fs";
import { at_home, day_and_time, day_label, days_later, hours_later } from "./times.mjs";

const phrases = JSON.parse(readFileSync(new URL("../../../web/src/words/phrases.json", import.meta.url), "utf8"));
export const zone = "Europe/Oslo";

function nights(now, lit, doubtful, count = 10) {
  const first = at_home(now, 0, 21, 30);
  const soon = first.getTime() - now.getTime() < 6 * 3_600_000;
  const begin = soon ? first : days_later(first, -1);
  return Array.from({ length: count }, (_, index) => {
    const window = index < lit ? "expected" : index < lit + doubtful ? "doubtful" : "not_expected";
    const step = index - lit + 1;
    const risk_by_end = window === "expected" ? 1e-6 * (index + 1) : window === "doubtful" ? 0.0021 * step ** 3 : Math.min(0.999, 0.5 + 0.1 * (step - doubtful));
    const from = days_later(begin, index);
    return { from: from.toISOString(), to: days_later(begin, index + 1).toISOString(), risk: risk_by_end / 2, risk_by_end, window, tonight: index === 0, label: day_label(from) };
  });
}

function quantiles(now, p05, p50, p95) {
  const at = (h) => hours_later(now, h).toISOString();
  return { remaining_h: { p05, p50, p95 }, cutoff_at: { p05: at(p05), p50: at(p50), p95: at(p95) }, warning_at: { p05: at(p05 * 0.9), p50: at(p50 * 0.9), p95: at(p95 * 0.9) } };
}

/// As the service tells them: the first is the date to act by, the others are likely and ever less sure.
function coming_changes(now, ...days) {
  const date = (ahead) => at_home(now, ahead, 12, 0).toISOString().slice(0, 10);
  return days.map((day, index) => ({ at: at_home(now, day, 21, 30).toISOString(), earliest: date(day - index - 1), latest: date(day + index) }));
}

function phrase(code, limit) {
  return { phrase: code, sentence: phrases[code].words, limit };
}

const wrong_cells = "These cells have no forecast.";
const to_change = { cells: 2, lot: "7Q", place: "hall cupboard" };

export const sides = {
  calm: (now) => ({
    ...phrase("expected_to_last_tonight", `Change by ${day_and_time(at_home(now, 3, 21, 30))}.`),
    because: ["Settings unchanged for 40 days.", "Used 3 % faster than the settings say, by the last 9 sets of this side."],
    questions: [], ...quantiles(now, 130, 168, 201),
    change_by: at_home(now, 3, 21, 30).toISOString(), no_later_than: at_home(now, 4, 21, 30).toISOString(), coming_changes: coming_changes(now, 3, 14, 25, 36),
    nights: nights(now, 3, 3), last_recorded_at: at_home(now, -1, 21, 35).toISOString(), cells_since: at_home(now, -5, 21, 30).toISOString(),
    cells: { profile: "lr6-family", lot: "7Q", expires: "2033-01" }, to_change: null,
  }),
  fresh: (now) => ({
    ...sides.calm(now), ...quantiles(now, 250, 290, 331), nights: nights(now, 9, 1), limit: `Change by ${day_and_time(at_home(now, 9, 21, 30))}.`, change_by: at_home(now, 9, 21, 30).toISOString(), coming_changes: coming_changes(now, 9, 20, 31, 41),
    last_recorded_at: now.toISOString(), cells_since: now.toISOString(), because: ["Fresh cells."],
  }),
  asking: (now, side) => ({
    ...sides.calm(now), questions: [{ code: "a_reading_would_help", text: `A look at the unit's gauge for the ${side} side would tell most now. Note it if you can.` }],
  }),
  due: (now) => ({
    ...sides.calm(now), ...phrase("change_before_tonight", "By 21:30 today."), because: ["Amplitude up from 4.0 to 4.6: 11 % faster."],
    ...quantiles(now, 20, 34, 47), change_by: at_home(now, 0, 21, 30).toISOString(), coming_changes: coming_changes(now, 0, 10, 20, 30), nights: nights(now, 0, 1), cells_since: at_home(now, -9, 21, 30).toISOString(), to_change,
  }),
  now: (now, side) => ({
    ...sides.due(now), ...phrase("change_now", "These cells may run out at any moment; do not wait for the changing time."), because: ["A reading was lower than expected; the forecast follows the reading."], ...quantiles(now, 2, 6, 11),
    change_by: null, no_later_than: null, coming_changes: [], nights: nights(now, 0, 0),
    questions: [{ code: "reading_is_low", text: `The last reading of the ${side} side is lower than expected: the forecast goes by it, to be early rather than late.` }],
  }),
  warned: (now, side = "left", at = at_home(now, 0, 3, 10), clock = "03:10") => ({
    phrase: "change_now", sentence: `The unit warned at ${clock}. Change the ${side} cells now.`, limit: "The unit's own alarm comes before any forecast.", because: [], questions: [],
    warned_at: at.toISOString(), last_recorded_at: at.toISOString(), cells_since: at_home(now, -9, 21, 30).toISOString(), cells: null, to_change,
  }),
  stopped: (now, side) => ({
    ...sides.warned(now, side), warned_at: null, stopped_at: at_home(now, 0, 3, 10).toISOString(), limit: "Use the backup ventilation as prescribed.",
    sentence: `The ${side} side was recorded as stopped at 03:10 today. Look at the wearer first. Change the ${side} cells now.`,
  }),
  unknown: (now, side) => ({
    ...sides.due(now), because: ["It is not known which cells are in this side, nor how old they are."], cells: null, cells_since: null, last_recorded_at: null,
    nights: nights(now, 0, 4), questions: [{ code: "which_cells", text: `Which cells are in the ${side} side? If nobody knows, put in fresh cells at the next changing time: those in now may be spent.` }],
  }),
  disagreeing: (now, side) => ({
    ...sides.calm(now), because: ["The last reading is higher than these cells can show; it waits for a second one."],
    last_recorded_at: at_home(now, 0, 19, 5).toISOString(),
    questions: [{ code: "were_cells_changed", text: `Were the ${side} cells changed?` }],
  }),
  wrong: (now, side) => ({
    ...phrase("no_forecast", `${wrong_cells} Put new alkaline cells in the ${side} side, by 21:30 today at the latest.`), because: [wrong_cells], nights: [],
    questions: [{ code: "wrong_cells", text: `The cells in the ${side} side have no forecast: use new alkaline cells of one type.` }],
    last_recorded_at: at_home(now, -1, 21, 30).toISOString(), cells_since: at_home(now, -1, 21, 30).toISOString(), cells: { profile: "rechargeable" }, to_change,
  }),
};

export function lots() {
  return [
    { item: "cells", lot: "7Q", quantity: 10, expires: "2032-06", place: "hall cupboard", profile: "lr6-family" },
    { item: "cells", lot: "8B", quantity: 12, expires: "2033-01", place: "home", profile: "lr6-family" },
    { item: "antennas", lot: "AN-4", quantity: 3, expires: null, place: "home" },
    { item: "dressings", lot: null, quantity: 40, expires: "2028-05", place: "hall cupboard" },
  ];
}

const both = (left, right = "calm") => ({ left, right });

/// By the first word of the household's name.
export const scenes = {
  calm: both("calm"), due: both("calm", "due"), now: both("now"), warned: both("warned"), old: { ...both("calm", "due"), age_h: 23 }, waiting: both("due"),
  unknown: both("unknown"), disagreeing: { ...both("disagreeing"), recorded: (now) => [["reading", { side: "left", percent: 96, condition: "pacing", at: at_home(now, 0, 19, 5).toISOString() }]] }, wrong: both("wrong"), nostock: { ...both("calm"), stock: "none" }, steps: { ...both("calm"), steps: 5 }, stopped: both("calm", "stopped"),
  untyped: { ...both("unknown", "unknown"), untyped: true }, approved: { ...both("calm"), stimulator: "approved" },
  approveddue: { ...both("calm", "due"), stimulator: "approved" }, approvedwarned: { ...both("warned"), stimulator: "approved" },
};
