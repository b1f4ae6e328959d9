// SPDX-License-Identifier: MIT
// One invented household: its entries, and the documents that follow from those not voided.
import { booked_with, correspondence_scenes, correspondence_text } from "./correspondence.mjs";
import { clock_at_home, clocks_at_home, day_of_date, hours_later, days_later } from "./times.mjs";
import { lots, scenes, sides, zone } from "./fixtures.mjs";
import { in_hospital, plan_scenes, plan_text, plans_of, settings_of, with_plans } from "./plans.mjs";

const cap = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/// As the service has it (server/api/entry_document.cpp).
function reading_text({ side, ...seen }) {
  if (seen.warning) return `The unit warned: ${side} side.`;
  if (seen.stopped) return `The ${side} side stopped.`;
  if (seen.percent !== undefined) return `${cap(side)}: the gauge showed ${seen.percent} %.`;
  if (seen.step !== undefined) return `${cap(side)}: the gauge showed step ${seen.step} of ${seen.of}.`;
  return seen.set_V !== undefined ? `${cap(side)}: ${seen.set_V} V across the cells.` : `${cap(side)}: ${(seen.cell_V ?? []).map((volts) => `${volts} V`).join(", ")} across each cell.`;
}

const whys = { planned: ", as planned", warning: " after a warning", ran_out: " after they ran out", fault: " because of a fault" };
const change_text = ({ side, reason, cells }) => `The ${side} cells were changed${whys[reason] ?? ""}${cells?.lot ? `, lot ${cells.lot}` : ""}.`;
const moved = { stock_count: "Counted", delivery: "Received", use: "Used", discard: "Thrown away" };
const stock_text = (kind, { quantity, item, lot, place }) => `${moved[kind]}: ${quantity} ${item}${lot ? `, lot ${lot}` : ""}${place ? `, ${place}` : ""}.`;

export class FakeHousehold {
  entries = [];
  answers = new Map();

  constructor(name, clock) {
    this.name = name;
    this.clock = clock;
    this.scene = { ...scenes, ...plan_scenes, ...correspondence_scenes }[name.split("-")[0]] ?? scenes.calm;
    this.begun = clock();
    for (const [kind, body] of this.scene.recorded?.(clock()) ?? []) this.record(kind, body);
  }

  closed_at() {
    return this.scene.closed_at?.(this.begun) ?? null;
  }

  standing() {
    return this.entries.filter((entry) => !entry.voided_by && entry.kind !== "void");
  }

  lots() {
    const all = this.scene.stock === "none" ? lots().filter((lot) => lot.item !== "cells") : lots();
    if (this.scene.untyped) for (const lot of all) delete lot.profile;
    for (const { kind, body } of this.standing()) {
      const same = all.find((lot) => lot.item === (body.item ?? "cells") && (lot.lot ?? "") === (body.lot ?? body.cells?.lot ?? "") && lot.place === (body.place ?? body.cells?.place));
      if (kind === "stock_count" && same) same.quantity = body.quantity;
      else if (kind === "stock_count") all.push({ ...body });
      if (kind === "delivery" && same) same.quantity += body.quantity;
      else if (kind === "delivery") all.push({ ...body });
      if ((kind === "use" || kind === "discard") && same) same.quantity = Math.max(0, same.quantity - body.quantity);
      if (kind === "cell_change" && body.from_stock && same) same.quantity -= 2;
    }
    return all;
  }

  side(name, now) {
    let told = sides[this.scene[name]](now, name);
    for (const { kind, body, at } of [...this.standing()].sort((a, b) => Date.parse(a.at) - Date.parse(b.at))) {
      if (body.side !== name) continue;
      if (kind === "cell_change") told = body.cells.profile === "rechargeable" ? sides.wrong(now, name) : sides.fresh(now, name);
      if (body.warning) told = sides.warned(now, name, new Date(at), clock_at_home(new Date(at)));
      if (body.percent > 90 && kind === "reading" && this.scene[name] === "calm") told = { ...told, questions: [{ code: "were_cells_changed", text: `Were the ${name} cells changed?` }] };
      told = { ...told, last_recorded_at: at };
    }
    told = with_plans(told, name, this, now);
    const again = this.changed_again(name);
    return again ? { ...told, questions: [{ code: "same_change_twice", text: `Two changes of the ${name} cells within 12 hours: the same change?`, entry: again.id }] } : told;
  }

  /// The second of two changes of one side with nothing between, until someone answers.
  changed_again(side) {
    const changes = this.standing().filter((entry) => entry.kind === "cell_change" && entry.body.side === side);
    const answered = this.standing().some((entry) => entry.kind === "answer" && entry.body.entry === changes.at(-1)?.id);
    return changes.length > 1 && !answered ? changes.at(-1) : null;
  }

  stock(now) {
    const all = this.lots();
    const day = (days) => days_later(now, days).toISOString().slice(0, 10);
    const kept = all.some((lot) => lot.item === "tape") ? ["tape"] : [];
    return ["cells", "antennas", "dressings", ...kept].map((item) => {
      const of_item = all.filter((lot) => lot.item === item);
      const quantity = of_item.reduce((sum, lot) => sum + lot.quantity, 0);
      const p05 = item === "cells" ? Math.floor((quantity * 41) / 22) : 90;
      const days = quantity ? { p05, p50: Math.floor(p05 * 1.15), p95: Math.ceil(p05 * 1.35) } : { p05: 0, p50: 0, p95: 0 };
      const order_by = day(quantity ? Math.max(0, p05 - 25) : 0);
      const order_quantity = item === "cells" ? 24 : 5;
      const none = quantity || item !== "cells" ? "" : " There are no spare cells for when the unit warns: get new alkaline cells of one type today.";
      const limit = `${quantity} ${item}.${none} Order ${order_quantity} ${quantity ? `by ${day_of_date(order_by)}` : "today"}.`;
      const sentence = quantity ? `Enough for ${p05} days.` : `No ${item} in the house.`;
      return { item, quantity, usable: quantity, days, sentence, limit, order_by, order_quantity, please_count: false, lots: of_item };
    });
  }

  forecast() {
    const now = this.clock();
    const computed = hours_later(now, -(this.scene.age_h ?? 0.15));
    return {
      household: this.name, zone, zone_now: this.scene.zone_now ?? zone, ...(!this.scene.zone_now && { clocks: clocks_at_home(computed) }), as_of: computed.toISOString(), old_after: hours_later(computed, 12).toISOString(),
      disclaimer: "An estimate. The unit's own alarm comes first: act on it at once.",
      sides: { left: this.side("left", now), right: this.side("right", now) }, stock: this.stock(now), cautions: [],
      in_hospital: in_hospital(this, now), plans: plans_of(this, now),
    };
  }

  document() {
    return {
      household: this.name, zone, area: "north", changing_times: ["21:30"],
      settings: { left: settings_of("left"), right: settings_of("right") }, in_hospital: in_hospital(this, this.clock()), stays: [],
      units: [{ serial: "u-1", stimulator: this.scene.stimulator ?? "invented", from: "2026-01-01T09:00:00+01:00", cells_in_series: 2, gauge: { steps: this.scene.steps ?? null } }, { serial: "u-2", stimulator: "invented", from: "2026-01-01T09:00:00+01:00", spare: true, cells_in_series: 2 }],
      cell_profiles: [{ id: "lr6-family", designation: "LR6", usable: true }], items: ["cells", "antennas", "dressings", "tape"],
      places: ["home", "hall cupboard", "school bag"], lots: this.lots(), as_of: this.clock().toISOString(),
    };
  }

  chart(side) {
    const now = this.clock();
    const hour = (index) => hours_later(now, -120 + index * 6);
    const points = Array.from({ length: 54 }, (_, index) => {
      const p50 = Math.max(0, 100 - index * 1.95);
      const spread = 3 + Math.max(0, index - 20) * 0.55;
      return { at: hour(index).toISOString(), p05: Math.max(0, p50 - spread), p50, p95: Math.min(100, p50 + spread) };
    });
    const readings = [2, 6, 11, 16, 19].map((index, n) => ({ at: hour(index).toISOString(), percent: 98 - index * 2 + [1, -3, 2, -1, 2][n], text: `gauge ${98 - index * 2} %, pacing` }));
    return { side, points, readings, warning_percent: 12, cutoff_at: sides.calm(now).cutoff_at, as_of: now.toISOString() };
  }

  text_of(kind, body) {
    if (kind === "cell_change") return change_text(body);
    if (kind === "reading") return reading_text(body);
    if (kind in moved) return stock_text(kind, body);
    if (kind === "void") return `Entry ${body.entry} was taken back.`;
    return correspondence_text(kind, body) ?? plan_text(kind, body) ?? cap(kind.replace(/_/g, " "));
  }

  record(kind, body) {
    const { who = null, ...rest } = body;
    const now = this.clock().toISOString();
    const entry = { id: this.entries.length + 1, kind, at: body.at ?? body.from ?? now, recorded_at: now, who, voided_by: null, body: rest, text: this.text_of(kind, body) };
    if (kind === "void") for (const one of booked_with(this, body.entry)) one.voided_by = entry.id;
    this.entries.push(entry);
    if (kind === "void" || body.answer === "same") for (const one of this.entries) if (one.id === body.entry) one.voided_by = entry.id;
    return entry;
  }
}
