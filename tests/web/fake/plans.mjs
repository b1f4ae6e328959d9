// SPDX-License-Identifier: MIT
// Plans of the invented households: what is open or to come, the questions that follow, two forecasts side by side.
import { at_home, day_and_time, days_later, hours_later } from "./times.mjs";
import { sides } from "./fixtures.mjs";

const day = (at) => day_and_time(new Date(at)).split(",")[0];
const cap = (text) => text.charAt(0).toUpperCase() + text.slice(1);
const more_words = ({ hours_per_day, amplitude }) => [hours_per_day === 24 ? "all day" : hours_per_day && `${hours_per_day} hours a day`, amplitude && `with amplitude ${amplitude}`].filter(Boolean).join(" ");

const texts = {
  paced_more: (body) => `Paced ${more_words(body)} since ${day(body.from)}.`,
  visit: (body) => `A visit on ${day_and_time(new Date(body.at))} wants fresh cells.`,
  stay: (body) => `Away from ${day(body.from)} to ${day(body.to)}.`,
  hospital: (body) => `In hospital since ${day_and_time(new Date(body.from))}.`,
  unit: (body) => `Unit ${body.serial} from ${day(body.from)}.`,
  settings: (body) => `${cap(body.side)}: ${body.growth ? `pacing grows by ${body.growth.minutes_per_week} minutes a week until ${body.growth.up_to_hours} hours, from` : "new settings from"} ${day(body.from)}.`,
};
const ended = new Set(["paced_more", "stay"]);

export const packing = { cells: 12, sets: 6, other: [{ item: "antennas", quantity: 1 }], odds_text: "Expected to be enough in at least 999 of 1 000 such stays, and one set to spare." };

export const plan_text = (kind, body) => texts[kind]?.(body) ?? null;

function is_over(household, { id, kind, at, body }, now) {
  const standing = household.standing();
  if (standing.some((one) => one.kind === "end" && one.body.entry === id)) return true;
  if (kind === "hospital") return standing.some((one) => one.kind === "back_home" && one.id > id);
  if (body.to) return Date.parse(body.to) <= now.getTime();
  return kind === "visit" || kind === "unit" || (kind === "settings" && !body.growth) ? Date.parse(at) <= now.getTime() : false;
}

export function plans_of(household, now) {
  const open = household.standing().filter((entry) => entry.kind in texts && !is_over(household, entry, now));
  return open.sort((a, b) => Date.parse(a.at) - Date.parse(b.at)).map(({ id, kind, at, body, text }) => ({
    entry: id, kind, sides: body.sides ?? (body.side ? [body.side] : []), from: at, to: body.to ?? null, text, can_end: ended.has(kind),
    ...(kind === "stay" && Date.parse(at) > now.getTime() && { packing }),
  }));
}

export function in_hospital(household, now) {
  const stay = plans_of(household, now).find((plan) => plan.kind === "hospital" && Date.parse(plan.from) <= now.getTime());
  return stay ? { since: stay.from, entry: stay.entry } : null;
}

const silent = (because, limit) => ({ phrase: "no_forecast", sentence: "No forecast.", limit, because: [because], questions: [], nights: [], remaining_h: null, change_by: null, last_recorded_at: null, to_change: null });

/// What a side tells once plans are counted in.
export function with_plans(told, name, household, now) {
  const away = in_hospital(household, now);
  if (away) return silent("In hospital.", `${texts.hospital({ from: away.since })} Say so here when back home.`);
  const standing = household.standing();
  const back = standing.filter((entry) => entry.kind === "back_home").at(-1);
  const unanswered = back && ["settings", "unit"].filter((what) => back.body[what] !== "as_before" && !standing.some((one) => one.kind === what && one.id > back.id));
  if (unanswered?.length) {
    const ask = { settings: `Which settings does the ${name} side have since the stay in hospital?`, unit: "Which unit is in use since the stay in hospital?" };
    return { ...silent("Back home.", "In doubt: fresh cells in both sides."), questions: unanswered.map((what) => ({ code: `which_${what}`, text: ask[what] })) };
  }
  const more = plans_of(household, now).find((plan) => plan.kind === "paced_more" && plan.sides.includes(name));
  if (!more) return told;
  const still = standing.some((entry) => entry.kind === "answer" && entry.body.entry === more.entry);
  const asks = !still && now.getTime() - Date.parse(more.from) >= 3 * 86_400_000;
  return { ...told, because: [more.text, ...(told.because ?? [])], questions: asks ? [{ code: "still_paced_more", text: `Is the ${name} side still paced all day?`, entry: more.entry }] : told.questions };
}

/// Both forecasts in the same form; in the second the sides that were typed in have another figure.
export function side_by_side(household, body, now) {
  const recorded = household.forecast();
  for (const side of Object.values(recorded.sides)) Object.assign(side, { questions: [], fresh_set_h: { p05: 250, p50: 290, p95: 331 } });
  const typed = structuredClone(recorded);
  const named = [...(body.settings ?? []).map((one) => one.side), ...Object.keys(body.cells ?? {})];
  for (const name of named) Object.assign(typed.sides[name], sides.due(now), { questions: [], because: ["Amplitude 4.6 instead of 4: 14 % faster."], fresh_set_h: { p05: 210, p50: 244, p95: 280 } });
  return { household: household.name, as_of: now.toISOString(), statement: "Computed for what was typed in. Nothing was recorded. Settings are the clinician's to change.", as_recorded: recorded, as_typed_in: typed };
}

/// The place and reason of what cannot be, or null.
export function plan_fault(kind, body, household) {
  const first = body.paced?.[0];
  const hour = (clock) => Number(clock.slice(0, 2)) + Number(clock.slice(3)) / 60;
  const hours = first ? (hour(first.to) - hour(first.from) + 24) % 24 || 24 : 0;
  if (body.growth && body.growth.up_to_hours < hours) return ["/growth/up_to_hours", `is less than Monday already has, ${hours} hours of pacing: give at least that, or shorten its times`];
  if (kind === "paced_more" && body.amplitude > 1000) return ["/amplitude", "expected a number from 0.001 to 1000"];
  if (kind === "end") {
    const begun = household.entries.find((entry) => entry.id === body.entry);
    if (begun && Date.parse(body.at) <= Date.parse(begun.at)) return ["/at", "is not after the beginning: give a later time, or take the entry back"];
  }
  const unknown = Object.entries(body.cells ?? {}).find(([, id]) => id === "unknown-cell");
  return unknown ? [`/cells/${unknown[0]}`, "is no cell profile: expected one of lr6-family"] : null;
}

const every_day = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
export const settings_of = (side) => ({ side, from: "2026-01-01T09:00:00+01:00", rate_per_min: 12, inspiratory_fraction: 0.28, amplitude: 4, paced: [{ days: every_day, from: "21:00", to: "07:00" }] });

const fever = (now) => ["paced_more", { from: days_later(now, -4).toISOString(), sides: ["left", "right"], hours_per_day: 24, why: "infection" }];
const hospital = (now) => ["hospital", { from: hours_later(now, -6).toISOString() }];
const planned = (now) => [
  fever(now),
  ["visit", { at: at_home(now, 2, 9, 0).toISOString(), sides: ["left", "right"], note: "clinic" }],
  ["stay", { from: at_home(now, 16, 0, 0).toISOString(), to: at_home(now, 21, 23, 59).toISOString() }],
  ["unit", { serial: "u-2", stimulator: "invented", from: at_home(now, 9, 9, 0).toISOString() }],
];

/// Households in which something is planned, by the first word of their name.
export const plan_scenes = {
  fever: { left: "calm", right: "calm", recorded: (now) => [fever(now)] },
  hospital: { left: "calm", right: "calm", recorded: (now) => [hospital(now)] },
  back: { left: "calm", right: "calm", recorded: (now) => [hospital(now), ["back_home", { at: hours_later(now, -1).toISOString(), settings: "dont_know", unit: "dont_know" }]] },
  planned: { left: "calm", right: "calm", recorded: planned },
  asking: { left: "asking", right: "calm" },
  travelling: { left: "calm", right: "calm", zone_now: "America/New_York" },
};
