// SPDX-License-Identifier: MIT
// The planner's desk at the stand-in: what is kept of rounds, store, decisions and answers, and the documents of it.
import { make_rows, sort_rows } from "./board.mjs";
import { day } from "./chance.mjs";
import { FakeLots } from "./lots.mjs";
import { first_items, first_lots, first_rules, lines_of, plan_of, remedies_of, rounds_of } from "./rounds.mjs";

export const problem = (status, code, title, more = {}) => ({ status, body: { type: `/problems/${code}`, title, status, ...more } });
const created = (body) => ({ status: 201, body });
const found = (body) => ({ status: 200, body });

export const disclaimer = "An estimate. The unit's own alarm comes first: act on it at once.";

const of_another_start = () => problem(409, "outdated", "Somebody else was first", { detail: "This plan was worked out before the service restarted.", restarted: true });

export class FakeDesk {
  kept = new Map();
  decisions = [];
  tag = 1;
  calendar_number = 7;
  stock_short = false;
  computing = 0;
  zone_now = "Europe/Oslo";
  horizon_days = 56;
  cover_days = 35;
  items = first_items;
  storage = new Map();
  received = [];
  whereabouts = new Map(); // of what did not come, by home and round
  restarted = false;

  constructor(clock, homes) {
    this.clock = clock;
    this.lots = new FakeLots(clock, () => this.rows);
    this.rules = first_rules(clock());
    this.store = first_lots(clock());
    this.resize(homes);
  }

  resize(homes) {
    this.rows = make_rows(this.clock(), homes);
    this.version = 1;
  }

  row(household) {
    return this.rows.find((one) => one.household === household);
  }

  change(household, part) {
    const row = this.row(household);
    this.rows = sort_rows(this.rows.map((one) => (one === row ? { ...row, ...part } : one)));
    this.version++;
    this.tag++;
    return this.row(household);
  }

  board(query) {
    const from = Number(query.get("cursor") ?? 0);
    const to = Math.min(this.rows.length, from + Number(query.get("limit") ?? this.rows.length));
    const of = this.rows.length;
    return found({ as_of: this.clock().toISOString(), disclaimer, zone_now: this.zone_now, computed: of - this.computing, of, version: `b-${this.version}`, next: to < of ? String(to) : null, rows: this.rows.slice(from, to) });
  }

  desk_of(household) {
    const row = this.row(household);
    if (!row) return problem(404, "unknown-household", "There is no household of this name.");
    const stock = [{ item: "cells", lot: "A1", pieces: 18, expires: "2032-08", place: "home" }, { item: "cells", lot: "B7", pieces: 4, expires: "2033-02", place: "school bag" }, { item: "dressings", lot: null, pieces: 40, expires: "2028-05", place: "home" }];
    return found({ disclaimer, row, storage: this.storage.get(household) ?? [], decisions: this.decisions.filter((one) => one.stop === (row.stop ?? household)).map(({ round, on }) => ({ round, stop: on })), units: ["u-1", "u-2"].map((serial) => ({ serial, stimulator: "stepped-linear", from: "2026-03-02T09:00:00+01:00" })), stock, comes_back: [{ what: "unit u-1", pieces: 1 }, { what: "unit u-2", pieces: 1 }, { what: "cells, lot A1", pieces: 18 }] });
  }

  /// Stops on rounds that have not left end with it.
  close(household) {
    const { stop, deliveries } = this.row(household);
    const ends = (one) => one.state === "planned" || one.state === "loaded";
    const { closed_at } = this.change(household, { closed_at: this.clock().toISOString(), attention: deliveries.every(ends) ? [] : ["closed_with_open"], deliveries: deliveries.filter((one) => !ends(one)) });
    return created({ closed_at, stops_ended: deliveries.filter(ends).map(({ round, date }) => ({ stop: stop ?? household, round, date })), comes_back: this.desk_of(household).body.comes_back });
  }

  /// What the home was told of its deliveries: here what it needs, whenever it was planned.
  messages_of(household) {
    const row = this.row(household);
    const lines = lines_of(row, 0).map((one) => ({ item: one.item, packs: one.packs, pieces: one.packs * this.per_pack(one.item), lots: one.lots }));
    return found({ messages: [], closed_at: row.closed_at, deliveries: row.deliveries.map(({ since, ...one }) => ({ ...one, lines, text: "" })) });
  }

  per_pack(item) {
    return this.items.find((one) => one.item === item)?.pieces_per_pack ?? 1;
  }

  /// Plans that were given out are no longer known.
  restart() {
    this.restarted = true;
    this.tag++;
  }

  plan() {
    this.restarted = false;
    return plan_of(this, this.rows, this.clock());
  }

  calendar() {
    const recent = [...this.kept.values()].filter((one) => one.date < day(this.clock(), 0));
    return { recent, zone: this.zone_now, number: this.calendar_number, zone_now: this.zone_now, horizon_days: this.horizon_days, cover_days: this.cover_days, rules: this.rules, items: this.items, areas: [...new Set([...this.rules.map((one) => one.area), ...this.rows.map((one) => one.area).filter(Boolean)])].sort(), rounds: rounds_of(this, this.clock()) };
  }

  set_calendar({ follows, rules, items = this.items, horizon_days = 56, cover_days = 35 }) {
    if (follows !== this.calendar_number) return problem(409, "outdated", "Another planner changed the calendar first.", { detail: "Nothing was stored. Look at it as it is now." });
    const wrong = rules.findIndex((one) => !one.weekdays.length && !one.dates.length);
    if (wrong >= 0) return problem(422, "out-of-range", "Something is outside its range.", { errors: [{ place: `/rules/${wrong}/dates`, code: "missing", reason: "A rule needs a weekday or a date." }] });
    if (horizon_days < 7) return problem(422, "out-of-range", "Something is outside its range.", { errors: [{ place: "/horizon_days", code: "out-of-range", reason: "is less than 7" }] });
    Object.assign(this, { rules, items, horizon_days, cover_days });
    this.calendar_number++;
    this.tag++;
    return found(this.calendar());
  }

  record_stock({ what, item, lot, packs, expires = null, arrives = null }) {
    if (what === "ordered" && arrives < day(this.clock(), 0)) return problem(422, "out-of-range", "Something is outside its range.", { errors: [{ place: "/arrives", code: "out-of-range", reason: "lies in the past: record what has come as received" }] });
    const of_lot = (one) => one.item === item && one.lot === lot;
    const order = this.store.find((one) => of_lot(one) && one.arrives);
    if (what === "cancelled") return this.cancel(order, packs);
    const same = what === "ordered" ? order : this.store.find((one) => of_lot(one) && !one.arrives);
    const pieces_per_pack = this.per_pack(item);
    if (!same) this.store.push({ item, lot, packs, pieces_per_pack, expires, arrives: what === "ordered" ? arrives : null, recalled: false, expired: false });
    else if (what === "ordered") Object.assign(same, { packs, arrives });
    else same.packs = what === "counted" ? packs : what === "discarded" ? Math.max(0, same.packs - packs) : same.packs + packs;
    if (order && what === "received") order.packs = Math.max(0, order.packs - packs);
    if (order && what === "counted" && order.arrives <= day(this.clock(), 0)) order.packs = 0;
    this.store = this.store.filter((one) => one !== order || one.packs);
    this.tag++;
    return created(this.stock());
  }

  stock() {
    return { lots: this.store.map((one) => ({ please_count: false, ...one })), looked_at: true };
  }

  cancel(order, packs) {
    if (!order || order.packs < packs) return problem(422, "out-of-range", "Something is outside its range.", { errors: [{ place: "/packs", code: "out-of-range", reason: order ? `is more than is on order: ${order.packs}` : "nothing of that lot is on order" }] });
    order.packs -= packs;
    this.store = this.store.filter((one) => one !== order || one.packs);
    this.tag++;
    return created(this.stock());
  }

  consequence({ plan, stop, from, to }) {
    if (this.restarted) return of_another_start();
    if (plan !== `p-${this.tag}`) return problem(409, "outdated", "The plan has changed since.", { detail: "Look at it as it is now." });
    const row = this.rows.find((one) => (one.stop ?? one.household) === stop);
    if (!row) return problem(422, "out-of-range", "There is no such stop.", { errors: [{ place: "/stop", code: "unknown-stop", reason: `No household has the stop ${stop}.` }] });
    const now = this.clock();
    const round = rounds_of(this, now).find((one) => one.round === to);
    const late = !to || round.date > row.deliver_by;
    const full = Boolean(round) && this.plan().rounds.find((one) => one.round === to)?.stops.length >= round.stops_at_most;
    const soon = Boolean(round) && round.last_day_to_plan < day(now, 0);
    const said = `${row.household}: 2 packs of cells to be there by ${row.deliver_by} would ${to ? `come on ${round.date}` : "not come"}.`;
    const falls = late ? [{ text: said, household: row.household, stop, item: "cells", packs: 2, deliver_by: row.deliver_by, late_on: to ? round.date : null, risk: 0.2 }] : [];
    const left = falls.map((one) => ({ ...one, reasons: ["kept_out"] }));
    const text = [
      late ? said : "",
      full ? `The round then has more stops than its ${round.stops_at_most}.` : "", soon ? "The round leaves too soon for a new stop." : "",
      from && to ? "" : `1 visit ${to ? "more" : "fewer"}, planned anew around it.`,
    ].filter(Boolean);
    return found({ falls, no_longer: [], risk_more: late ? 0.2 : 0, over_the_limit: full, leaves_too_soon: soon, replanned: { visits_more: to ? 0 : -1, risk_more: late ? 0.2 : 0, moves: [], left }, text });
  }

  decide({ stop, from, to, round, clear }) {
    if (clear) this.decisions = this.decisions.filter((one) => !(one.stop === stop && one.round === round));
    else this.decisions.push(...[from && { stop, round: from, on: false }, to && { stop, round: to, on: true }].filter(Boolean));
    this.tag++;
    return created({ plan: `p-${this.tag}` });
  }

  confirm({ plan, rounds }) {
    if (this.restarted) return of_another_start();
    if (plan !== `p-${this.tag}`) return problem(409, "outdated", "Another planner was first.", { detail: `${rounds[0]} was confirmed at 09:40. Nothing of yours was kept: look at it as it is now.` });
    const planned = this.plan();
    const confirmed = rounds.map((name) => {
      const round = planned.rounds.find((one) => one.round === name);
      const number = 80 + ++this.tag;
      this.kept.set(name, { ...round, state: "planned", number, stops: round.stops.map((one) => ({ ...one, confirmed: true })), history: [{ state: "planned", at: this.clock().toISOString(), number }] });
      return { round: name, stops: round.stops.length, number };
    });
    return created({ confirmed, withdrawn: [] });
  }

  round(name) {
    const kept = this.kept.get(name);
    if (!kept) return problem(404, "unknown-round", "There is no such round.");
    const { changed, ...round } = kept;
    const picking = new Map();
    for (const { lines } of round.stops) for (const { item, lots } of lines) for (const { lot, packs, expires } of lots) picking.set(item + lot, { item, lot, packs: (picking.get(item + lot)?.packs ?? 0) + packs, pieces: 0, expires });
    const per = (item) => this.per_pack(item);
    return found({
      ...round, zone_now: this.zone_now, as_of: this.clock().toISOString(), picking: [...picking.values()].map((one) => ({ ...one, pieces: one.packs * per(one.item), recalled: this.lots.recalls.has(one.lot) })),
      stops: round.stops.map(({ stop, lines }, index) => ({ stop, lines: lines.map((one) => this.round_line(round, one, index)) })),
    });
  }

  /// Once it is done the first stop has not answered, and to the last it did not come; the others have received.
  round_line({ round, state: of_round, stops }, { late, ...line }, index) {
    const pieces = line.packs * this.per_pack(line.item);
    const done = of_round === "done";
    const state = !done ? of_round : index === 0 ? "no_answer" : index === stops.length - 1 ? "not_received" : index % 4 ? "received" : "left";
    const packs_are = this.whereabouts.get(`${line.household} ${round}`) ?? "not_known";
    const did_not_come = state === "not_received" && packs_are === "not_known" ? pieces : 0;
    const answered_at = state === "received" || state === "not_received" ? this.clock().toISOString() : null;
    return { ...line, lots: line.lots.map((lot) => ({ ...lot, recalled: this.lots.recalls.has(lot.lot) })), pieces, state, answered_at, did_not_come, packs_are };
  }

  settle(household, { round, packs }) {
    const line = this.round(round).body.stops?.flatMap((one) => one.lines).find((one) => one.household === household);
    if (line?.state !== "not_received") return problem(422, "out-of-range", "Something is outside its range.", { errors: [{ place: "/round", code: "out-of-range", reason: "name a round of which something did not come to this household" }] });
    this.whereabouts.set(`${household} ${round}`, packs);
    const lots = [{ item: line.item, lot: line.lots[0]?.lot ?? null, pieces: line.pieces, expires: line.lots[0]?.expires ?? null }];
    const said = { came_back: `What did not come of ${round} is back in the agency's store.`, lost: `What did not come of ${round} is lost: the agency has written it off.`, not_known: `What was said of the packs of ${round} that did not come was taken back.` };
    return created({ round, packs, settled: packs === "not_known" ? [] : lots, did_not_come: packs === "not_known" ? lots : [], sentence: said[packs] });
  }

  set_round(name, { state, follows }) {
    const round = this.kept.get(name);
    if (round.number !== follows) return problem(409, "outdated", "Another planner changed this round first.", { detail: "Nothing was stored." });
    const recalled = this.round(name).body.picking.find((one) => one.recalled);
    if (recalled && (state === "loaded" || state === "left")) return problem(409, "lot-recalled", "A recalled lot is on this round", { detail: `${name} carries lot ${recalled.lot}, which is recalled. Nothing was stored.` });
    const number = round.number + 1;
    this.kept.set(name, { ...round, state, number, history: [...round.history, { state, at: this.clock().toISOString(), number }] });
    this.tag++;
    return { ...this.round(name), status: 201 };
  }

  remedies(stop) {
    return found({ plan: `p-${this.tag}`, stop, remedies: remedies_of(this.clock()) });
  }
}
