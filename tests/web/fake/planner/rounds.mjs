// SPDX-License-Identifier: MIT
// Invented rounds, store and plan: homes go on the last round that is in time, whoever finds it full is left.
import { areas } from "./board.mjs";
import { day } from "./chance.mjs";

const weekdays = ["sun", "mon", "tue", "wed", "thu", "fri", "sat"];
const lot = (number) => ["A1", "A2", "B7"][number % 3];

export function first_rules(now) {
  return areas.map((area, index) => ({ name: `${area} morning`, area, weekdays: [weekdays[new Date(`${day(now, 1 + index)}T12:00:00Z`).getUTCDay()]], dates: [], not_on: [], stops: area === "islands" ? 6 : 14, lead_days: area === "islands" ? 4 : 2 }));
}

export const first_items = [{ item: "cells", pieces_per_pack: 24, pieces_per_set: 2 }, { item: "dressings", pieces_per_pack: 20, pieces_per_set: 1 }];

export function first_lots(now) {
  const one = (item, name, packs, expires, more = {}) => ({ item, lot: name, packs, pieces_per_pack: item === "cells" ? 24 : 20, expires, arrives: null, recalled: false, expired: false, ...more });
  return [
    one("cells", "A1", 96, "2032-08"), one("cells", "A2", 140, "2033-01"), one("cells", "B7", 31, "2033-02"), one("cells", "C3", 200, "2033-06", { arrives: day(now, 11) }),
    one("cells", "9Z", 4, "2026-10", { expired: true }), one("dressings", "D-20", 88, "2028-05"), one("dressings", "D-21", 60, "2028-11"),
  ];
}

/// The rounds of the rules from tomorrow on, those that were confirmed among them.
export function rounds_of(state, now) {
  const rounds = [];
  for (let days = 1; days <= 56; days++) {
    const date = day(now, days);
    const weekday = weekdays[new Date(`${date}T12:00:00Z`).getUTCDay()];
    for (const rule of state.rules) {
      if (rule.not_on.includes(date) || !(rule.weekdays.includes(weekday) || rule.dates.includes(date))) continue;
      const round = `${rule.name} ${date}`;
      const kept = state.kept.get(round);
      rounds.push({ round, area: rule.area, date, stops_at_most: rule.stops, lead_days: rule.lead_days, last_day_to_plan: day(now, days - rule.lead_days), state: kept?.state ?? "open", stops: kept?.stops.length ?? 0, number: kept?.number ?? 0 });
    }
  }
  return rounds;
}

export function lines_of(row, number) {
  return row.items.filter((one) => one.deliver_by).map((one) => ({ household: row.household, item: one.item, packs: one.packs, late: false, lots: [{ lot: one.item === "cells" ? lot(number) : "D-20", packs: one.packs, expires: one.item === "cells" ? "2033-01" : "2028-05" }] }));
}

export function plan_of(state, rows, now) {
  const rounds = rounds_of(state, now).map((one) => ({ ...one, stops: [...(state.kept.get(one.round)?.stops ?? [])], changed: false }));
  const left = [];
  const not_planned = [];
  for (const [number, row] of rows.entries()) {
    if (row.closed_at) continue;
    if (!row.area) {
      not_planned.push({ household: row.household, what: "has no area", remedy: "Give it one." });
      continue;
    }
    if (!row.deliver_by || row.reaches_next_round === false) continue;
    const stop = row.stop ?? row.household;
    if (rounds.some((round) => round.stops.some((one) => one.households.includes(row.household)))) continue;
    const ruled = state.decisions.filter((one) => one.stop === stop);
    const wanted = ruled.find((one) => one.on)?.round;
    const out = new Set(ruled.filter((one) => !one.on).map((one) => one.round));
    const may = rounds.filter((round) => (wanted ? round.round === wanted : round.area === row.area && round.date <= row.deliver_by && !out.has(round.round) && (round.state === "open" || round.state === "planned")));
    const shared = may.find((round) => round.stops.some((one) => one.stop === stop));
    const round = row.attention.includes("cannot_be_served") && !wanted ? null : (shared ?? may.reverse().find((one) => one.stops.length < one.stops_at_most || one.round === wanted));
    const lines = lines_of(row, number);
    if (!round) {
      const need = row.cannot_be_served[0] ?? { item: "cells", packs: 2, deliver_by: row.deliver_by, late_on: null, reasons: ["rounds_full"] };
      const text = `${row.household}: ${need.packs} packs of ${need.item} to be there by ${need.deliver_by} would ${need.late_on ? `come on ${need.late_on}` : "not come within this plan"}.`;
      left.push({ household: row.household, stop, risk: need.late_on ? 0.031 : 0.4, ...need, text });
      continue;
    }
    round.changed = true;
    if (shared) {
      const there = round.stops.find((one) => one.stop === stop);
      there.households.push(row.household);
      there.lines.push(...lines);
    } else round.stops.push({ stop, households: [row.household], confirmed: false, pinned: Boolean(wanted), late: false, lines });
  }
  const shown = rounds.filter((one) => one.stops.length).map(({ lead_days, last_day_to_plan, ...one }) => one);
  const visits = shown.reduce((sum, one) => sum + one.stops.length, 0);
  const risk = left.reduce((sum, one) => sum + one.risk, 0);
  return {
    plan: `p-${state.tag}`, zone_now: state.zone_now, as_of: now.toISOString(), rounds: shown, moved: [], left: left.sort((a, b) => b.risk - a.risk), not_planned,
    figures: { visits, visits_bound: visits, gap: 0, risk, risk_bound: risk, confirmed: [...state.kept.values()].reduce((sum, one) => sum + one.stops.length, 0), moved: 0, proven: true, least_visits_proven: true, stock_short: state.stock_short, seconds: 0.08 },
  };
}

export function remedies_of(now) {
  const at = (days) => day(now, days);
  return [
    { kind: "extra_stop", round: `islands morning ${at(5)}`, area: "islands", date: at(5), extra_visits: 1, risk_after: 0, text: `One stop more on islands morning ${at(5)}: 1 extra visit.` },
    { kind: "other_areas_round", round: `fjord morning ${at(4)}`, area: "fjord", date: at(4), extra_visits: 1, risk_after: 0, text: `A stop on fjord morning ${at(4)}, of fjord: 1 extra visit.` },
    { kind: "extra_round", area: "islands", date: at(7), extra_visits: 1, risk_after: 0, text: `A round more in islands on ${at(7)}: 1 extra visit.` },
    { kind: "more_packs", item: "cells", packs: 2, date: at(7), extra_visits: 0, risk_after: 0.02, text: `2 packs of cells more in the agency by ${at(7)}: 0 extra visits, and not everything in time.` },
  ].map((one) => ({ round: null, area: null, item: null, packs: null, ...one }));
}
