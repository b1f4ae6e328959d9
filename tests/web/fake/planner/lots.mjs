// SPDX-License-Identifier: MIT
// Invented lots: one of them short, one written wrongly, recalls and who was called.
import { at_home } from "../times.mjs";
import { day, told } from "./chance.mjs";
import { disclaimer, problem } from "./desk.mjs";

const created = (body) => ({ status: 201, body });
const found = (body) => ({ status: 200, body });

export class FakeLots {
  recalls = new Map();
  calls = new Map();
  corrections = [];
  left_out = []; // homes whose records cannot be read
  being_made = false; // the list, anew after a recall
  entry = 40;

  constructor(clock, rows) {
    this.clock = clock;
    this.rows = rows;
    this.known = [
      { item: "cells", lot: "A1", expires: "2032-08", in_homes: 1640, homes: 96, in_sides: 88, used_sets: 402, received: 2600, discarded: 4 },
      { item: "cells", lot: "A2", expires: "2033-01", in_homes: 2210, homes: 131, in_sides: 120, used_sets: 377, received: 3100, discarded: 0 },
      { item: "cells", lot: "B7", expires: "2033-02", in_homes: 116, homes: 6, in_sides: 5, used_sets: 17, received: 192, discarded: 2, on_its_way: 24, did_not_come: 12, lost: 4 },
      { item: "cells", lot: "C9", expires: "2033-09", in_homes: 0, homes: 0, in_sides: 0, used_sets: 0, received: 0, discarded: 0, in_agency: 480 },
      { item: "dressings", lot: "D-20", expires: "2028-05", in_homes: 900, homes: 140, in_sides: 0, used_sets: 0, received: 1400, discarded: 0 },
    ];
  }

  line(one) {
    const in_agency = one.in_agency ?? 744;
    const { on_its_way = 0, did_not_come = 0, lost = 0 } = one;
    return { ...one, in_agency, on_its_way, did_not_come, lost, recalled: this.recalls.get(one.lot) ?? null, written_as: this.corrections.filter((other) => other.to === one.lot).map((other) => other.from), sentence: `${one.in_homes ? `${one.in_homes} in ${one.homes} homes${one.in_sides ? `, in ${one.in_sides} sides` : ""}.` : "In no home now."}${on_its_way ? ` ${on_its_way} on the way to 1 home.` : ""}${did_not_come ? ` ${did_not_come} did not come to 1 home.` : ""} ${in_agency} in the agency's store.${lost ? ` ${lost} written off.` : ""}` };
  }

  list() {
    const lines = this.known.map((one) => this.line(one));
    return found({ as_of: this.clock().toISOString(), lots: lines.sort((a, b) => Number(Boolean(b.recalled)) - Number(Boolean(a.recalled))), left_out: this.left_out });
  }

  holders() {
    return this.rows().slice(10, 16);
  }

  one(query) {
    const asked = query.get("lot");
    const lot = this.corrections.find((one) => one.from === asked)?.to ?? asked;
    const known = this.known.find((one) => one.lot === lot);
    if (!known && !this.recalls.has(lot)) return problem(404, "unknown-lot", `No lot ${lot} is known here.`, { detail: "It stands in no count, delivery or change. A recall takes it all the same." });
    const line = this.line(known ?? { item: "cells", lot, expires: null, in_homes: 0, homes: 0, in_sides: 0, used_sets: 0, received: 0, discarded: 0, in_agency: 0 });
    const now = this.clock();
    const homes = known?.homes ? this.holders() : [];
    const short = lot === "B7";
    return found({
      as_of: now.toISOString(), disclaimer, left_out: this.left_out, item: line.item, lot, asked_as: asked === lot ? null : asked, written_as: line.written_as, recalled: line.recalled,
      totals: { received: line.received, used: line.used_sets * 2, discarded: line.discarded, unaccounted: 0, in_homes: line.in_homes, on_its_way: line.on_its_way, did_not_come: line.did_not_come, lost: line.lost, in_agency: line.in_agency, left_with_erased: 0 },
      on_its_way: line.on_its_way ? [{ household: homes[0].household, area: homes[0].area, stop: homes[0].stop, round: `${homes[0].area} morning ${day(now, 0)}`, date: day(now, 0), quantity: line.on_its_way }] : [],
      did_not_come: line.did_not_come ? [{ household: homes[5].household, area: homes[5].area, stop: homes[5].stop ?? homes[5].household, round: `${homes[5].area} morning ${day(now, -1)}`, date: day(now, -1), quantity: line.did_not_come, said_at: told(at_home(now, -1, 18, 0)) }] : [],
      being_made: this.being_made ? Math.min(3, homes.length) : 0,
      places: homes.map((one, index) => ({ household: one.household, area: one.area, stop: one.stop, place: index % 2 ? "school bag" : "home", quantity: 24 - index * 2, expires: line.expires })),
      sides: homes.slice(0, 3).map((one, index) => ({ household: one.household, area: one.area, stop: one.stop, side: index % 2 ? "right" : "left", since: told(at_home(now, -4, 21, 30)), change_by: this.being_made ? null : told(at_home(now, line.recalled ? 0 : 2 + index, 21, 30)), phrase: this.being_made ? null : line.recalled ? "change_before_tonight" : "expected_to_last_tonight" })),
      users: homes.map((one, index) => ({ household: one.household, area: one.area, stop: one.stop, sets: 1 + index, last_at: told(at_home(now, -12 - index, 21, 30)) })),
      did: {
        sets: line.used_sets, homes: line.homes, ratio: line.used_sets ? (short ? { p05: 0.71, p50: 0.8, p95: 0.9 } : { p05: 0.97, p50: 1, p95: 1.03 }) : null,
        sentence: short ? "Sets of this lot gave about 20 % less than expected (10 % to 29 %), from 17 sets in 6 homes." : line.used_sets ? "Sets of this lot gave about what was expected." : "No set of this lot has come out yet.",
        limit: "An estimate from what homes recorded; few sets say little.",
      },
    });
  }

  recall({ lot, why = "" }) {
    if (this.recalls.has(lot)) return problem(409, "already-recalled", `Lot ${lot} is recalled already.`);
    this.recalls.set(lot, { entry: ++this.entry, at: this.clock().toISOString(), why, by: "Office", to_call: 6, called: 0 });
    return created({ entry: this.entry, item: "cells", lot, at: this.clock().toISOString(), sides: 3, homes: 6, sentence: `Lot ${lot} is recalled: 3 sides and 6 homes hold it.` });
  }

  take_back({ lot }) {
    if (!this.recalls.delete(lot)) return problem(409, "not-recalled", `Lot ${lot} is not recalled.`);
    return created({ entry: ++this.entry, item: "cells", lot, at: this.clock().toISOString(), sides: 3, homes: 6, sentence: `Lot ${lot} is recalled no longer.` });
  }

  to_call(query) {
    const lot = query.get("lot");
    const calls = this.holders().map((one, index) => ({ household: one.household, area: one.area, stop: one.stop, on_its_way: index === 0 ? 24 : 0, did_not_come: index === 5 && lot === "B7" ? 12 : 0, sides: index < 3 ? [index % 2 ? "right" : "left"] : [], quantity: 24 - index * 2, usable_left: index % 2 ? 8 : 0, called_at: this.calls.get(one.household) ?? null, called_by: this.calls.has(one.household) ? "Office" : "", why_first: index < 3 ? "in a side" : "" }));
    return found({ as_of: this.clock().toISOString(), item: "cells", lot, recalled: this.recalls.get(lot) ?? null, calls: calls.sort((a, b) => Number(Boolean(a.called_at)) - Number(Boolean(b.called_at))), left_out: this.left_out });
  }

  call(household, lot) {
    this.calls.set(household, this.clock().toISOString());
    const recalled = this.recalls.get(lot);
    if (recalled) recalled.called++;
    return created({ entry: { id: 900, kind: "recall_call", at: this.clock().toISOString(), recorded_at: this.clock().toISOString(), text: "Called." } });
  }

  correct({ from, to }) {
    this.corrections = this.corrections.filter((one) => one.from !== from);
    if (to === from) return problem(422, "out-of-range", "Something is outside its range.", { errors: [{ place: "/to", code: "out-of-range", reason: "That is the same number." }] });
    if (to !== null) this.corrections.push({ entry: ++this.entry, item: "cells", from, to, at: this.clock().toISOString(), by: "Office" });
    return created({ entry: this.entry, item: "cells", from, to, uses: 9, sentence: to === null ? `${from} reads ${from} again.` : `${from} reads ${to} now, in 9 uses.` });
  }
}
