// SPDX-License-Identifier: MIT
// What the forms of seldom days make of a draft: paced less, no mains, another unit with its cells and gauges, settings old
// beside new, no deliveries, both sides on one evening, mixed-up sides.
import assert from "node:assert/strict";
import test from "node:test";
import { load_source } from "./support/source.mjs";

const source = await load_source("forms/less_model", "forms/paced_more_model", "forms/unit_model", "forms/settings_range", "forms/no_deliveries_model", "forms/change_model", "parts/ahead", "parts/evenings", "state/exchange", "state/intention");

const now = new Date("2026-11-24T19:40:00Z");
const every_day = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
const household = {
  household: "h-1", zone: "Europe/Oslo", changing_times: ["21:30"], as_of: now.toISOString(),
  units: [{ serial: "u-1", stimulator: "percent-power", from: "2026-01-01T09:00:00Z" }, { serial: "u-2", stimulator: "stepped-linear", from: "2026-01-01T09:00:00Z", spare: true, gauge: { steps: 5 } }],
  cell_profiles: [{ id: "lr6-family", designation: "LR6" }],
  lots: [{ item: "cells", lot: "7Q", quantity: 1, expires: "2032-06", place: "home", profile: "lr6-family" }, { item: "cells", lot: "8B", quantity: 12, expires: "2033-01", place: "home", profile: "lr6-family" }],
};
const context = { household, forecast: null, zone: "Europe/Oslo", place: "at home", changing_times: ["21:30"] };
const settings = { rate_per_min: 12, inspiratory_fraction: 0.28, amplitude: 4, paced: [{ days: every_day, from: "21:00", to: "07:00" }] };

test("paced less is a record for each side, and nought hours are hours", () => {
  const { errors, posts } = source.less_model({ side: "both", how: "fewer", hours: "0" }, context, now);
  assert.deepEqual(errors, {});
  assert.deepEqual(posts.map(({ path, body }) => [path, body.side, body.hours_per_day]), [["paced", "left", 0], ["paced", "right", 0]]);
  assert.deepEqual(Object.keys(source.less_model({ side: "left" }, context, now).errors), ["how"]);
});

test("a side switched off is recorded without hours", () => {
  const [post] = source.less_model({ side: "right", how: "off" }, context, now).posts;
  assert.equal(post.path, "switched-off");
  assert.deepEqual(post.body, { side: "right", from: "2026-11-24T20:40:00+01:00" });
});

test("without mains, more pacing is recorded with its reason, and for how long is asked", () => {
  assert.ok(source.paced_more_model({ side: "both", mains: "none" }, context, now).errors.how_long);
  const [post] = source.paced_more_model({ side: "both", mains: "none", how_long: "hours", hours: "18" }, context, now).posts;
  assert.equal(post.body.why, "no mains");
  assert.equal(post.body.hours_per_day, 18);
});

test("with another unit come its cells and both gauges, in this order and at one time", () => {
  const draft = { unit: "u-2", left_in: "same", right_in: "lot:8B@home", left_gauge: "3", right_gauge: "5" };
  const { errors, posts, summary } = source.unit_model(draft, context, now);
  assert.deepEqual(errors, {});
  assert.deepEqual(posts.map(({ path, side }) => [path, side ?? null]), [["units", null], ["cell-changes", "right"], ["readings", "left"], ["readings", "right"]]);
  assert.deepEqual(posts[2].body, { at: "2026-11-24T20:40:00+01:00", side: "left", condition: "just_on", step: 3, of: 5 });
  assert.equal(posts[1].body.cells.lot, "8B");
  assert.match(summary, /Left: gauge 3 of 5\. Right: gauge 5 of 5\.$/);
});

test("what is not answered about another unit is not recorded, and a gauge beyond its steps is refused", () => {
  assert.deepEqual(source.unit_model({ unit: "u-2" }, context, now).posts.map(({ path }) => path), ["units"]);
  assert.ok(source.unit_model({ unit: "u-2", left_gauge: "6" }, context, now).errors.left_gauge);
  assert.ok(source.unit_model({ unit: "u-2", left_gauge: "2.5" }, context, now).errors.left_gauge);
});

test("of a unit that is new here a gauge is recorded only once its type's profile says what it shows; of a coming day nothing", () => {
  const now = new Date("2026-11-24T19:40:00Z"), context = { household: { units: [] }, forecast: null, told: null, zone: "UTC", changing_times: ["21:30"] };
  const draft = { unit: "other:", serial: "u-9", stimulator: "stepped-linear", left_gauge: "3" };
  const readings = (more) => source.unit_model({ ...draft, ...more }, context, now).posts.filter(({ path }) => path === "readings").map(({ body }) => [body.step, body.of, body.percent]);
  assert.deepEqual(readings({}), [], "3 of 5 would be taken for 3 %");
  assert.deepEqual(readings({ gauge_of: "percent-power 0" }), [], "of another type");
  assert.deepEqual(readings({ gauge_of: "stepped-linear 5" }), [[3, 5, undefined]]);
  assert.deepEqual(readings({ stimulator: "percent-power", gauge_of: "percent-power 0" }), [[undefined, undefined, 3]]);
  assert.equal(source.is_in_use({ ...draft, when: "other", other: "2026-12-01T09:00" }, context, now), false);
});

test("records meant at one moment keep their order", () => {
  const keys = [1, 2, 3].map(() => source.intend({ path: "readings", body: {}, words: "" }).meant_ms);
  assert.deepEqual([...keys].sort((a, b) => a - b), keys);
  assert.equal(new Set(keys).size, 3);
});

test("recorded settings stand beside those typed in, seconds as a part of the breath", () => {
  const lines = source.old_beside_new(settings, { rate: "15", breath: "time", inspiration: "1.2", amplitude: "4.6", paced: "all_day" });
  assert.deepEqual(lines.map((line) => [line.old, line.new]), [["12", "15"], ["0.28", "0.3"], ["4", "4.6"], ["paced every day 21:00 to 07:00", "paced all day"]]);
  assert.deepEqual(source.old_beside_new(null, {}), []);
});

test("only what lies beyond the profile's range is asked about", () => {
  const range = { rate_per_min: [5, 30], inspiratory_fraction: [0.1, 0.6], amplitude: [0.5, 10] };
  const typed = { rate: "12", breath: "fraction", inspiration: "0.28", amplitude: "46" };
  assert.deepEqual(source.beyond_range(range, typed), ["Amplitude: 46; the profile has 0.5 to 10."]);
  assert.deepEqual(source.beyond_range(range, { ...typed, amplitude: "10" }), []);
  assert.deepEqual(source.beyond_range(null, typed), []);
});

test("without deliveries an item reaches surely, doubtfully or not, and is never said to reach further than reckoned", () => {
  const item = { item: "cells", days: { p05: 40, p50: 52, p95: 61 }, order_quantity: 24 };
  assert.match(source.reach_words(item, 40, "2027-01-03"), /^Cells: expected to last, in at least 19 of 20/);
  assert.match(source.reach_words(item, 41, "2027-01-04"), /^Cells: doubtful, they last 40 to 61 days\. Tell your agency now; ask for enough until Mon 4 Jan\.$/);
  assert.match(source.reach_words(item, 53, "2027-01-16"), /^Cells: not expected to last, 40 to 61 days\. Tell your agency now; ask for enough until Sat 16 Jan\.$/);
  assert.equal(source.reach_words({ item: "tape" }, 10, "2026-12-04"), "Tape: how long this lasts is not known.");
  assert.equal(source.days_until("2026-11-24", now), null);
  assert.equal(source.days_until("2026-12-04", now), 10);
});

const dated = (left, right) => ({ zone: "Europe/Oslo", sides: { left: { change_by: left }, right: { change_by: right } }, stock: [], plans: [] });

test("both sides on one evening: the earlier, so that neither moves later; and only within a week", () => {
  const early = "2026-11-27T20:30:00.000Z";
  assert.equal(source.one_evening(dated(early, "2026-11-30T20:30:00Z"), now).toISOString(), early);
  assert.equal(source.one_evening(dated("2026-12-02T20:30:00Z", early), now).toISOString(), early);
  assert.equal(source.one_evening(dated(early, early), now), null);
  assert.equal(source.one_evening(dated(early, "2026-12-05T20:30:00Z"), now), null);
  assert.equal(source.one_evening(dated("2026-11-23T20:30:00Z", early), now), null);
  assert.equal(source.one_evening(dated(early, null), now), null);
});

test("the next weeks stand in the order of their dates", () => {
  const forecast = { ...dated("2026-11-30T20:30:00Z", "2026-11-27T20:30:00Z"), stock: [{ item: "cells", order_by: "2026-11-28", order_quantity: 24 }] };
  assert.deepEqual(source.coming(forecast, [], now).map(({ words }) => words), ["Right: change by Fri 27 Nov, 21:30.", "Cells: order by Sat 28 Nov.", "Left: change by Mon 30 Nov, 21:30."]);
});

const likely = (...dates) => dates.map(([at, earliest, latest]) => ({ at: `${at}T21:30:00+01:00`, earliest, latest }));
const with_later = () => {
  const forecast = dated("2026-11-30T21:30:00+01:00", "2026-11-27T21:30:00+01:00");
  forecast.sides.left.coming_changes = likely(["2026-11-30", "2026-11-29", "2026-11-30"], ["2026-12-12", "2026-12-10", "2026-12-13"], ["2027-01-20", "2027-01-16", "2027-01-23"]);
  forecast.sides.right.coming_changes = likely(["2026-11-27", "2026-11-26", "2026-11-27"], ["2026-12-08", "2026-12-08", "2026-12-08"]);
  return forecast;
};

test("changes after the first are told as likely, with the days they may fall on, and none beyond six weeks", () => {
  assert.deepEqual(source.coming(with_later(), [], now).map(({ words }) => words), [
    "Right: change by Fri 27 Nov, 21:30.", "Left: change by Mon 30 Nov, 21:30.",
    "Right: likely Tue 8 Dec.", "Left: likely Sat 12 Dec (± 2 days).",
  ]);
});

test("once the date to act by has passed no later one of that side is told, nor while something of it waits", () => {
  const sides_told = (forecast, waiting, at = now) => source.coming(forecast, waiting, at).filter((one) => one.likely).map(({ words }) => words.split(":")[0]);
  assert.deepEqual(sides_told(with_later(), []), ["Right", "Left"]);
  assert.deepEqual(sides_told(with_later(), [], new Date("2026-11-27T20:31:00Z")), ["Left"]);
  assert.deepEqual(sides_told(with_later(), [{ side: "left" }]), ["Right"]);
});

test("evenings for both: never later than either's own date, and a side that goes earlier once goes earlier from then on", () => {
  const days = (left, right) => source.shared_evenings(left, right).map(({ day, first }) => (first ? `${day}, the first` : day));
  assert.deepEqual(days([0, 11, 22], [3, 14, 25]), ["0, the first", 11, 22]);
  assert.deepEqual(days([0, 12], [3, 11]), ["0, the first", 8], "the right side's 11 counts from its own third day");
  assert.deepEqual(days([5, 16], [5, 16]), ["5, the first", 16]);
  assert.deepEqual(days([0, 11], [9, 20]), [9], "nine days apart no evening does for both");
  assert.deepEqual(days([0, 30], [10, 20]), []);
  assert.deepEqual(days([], [3]), []);
});

test("later evenings for both are told beside the first: the days that are likely on both sides", () => {
  // The right side's first evening does for both; the left one, three days earlier then, is likely on the 9th, the right on the 8th.
  assert.deepEqual(source.later_evenings(with_later(), now), ["2026-12-08"]);
  assert.deepEqual(source.later_evenings(dated("2026-11-30T20:30:00Z", "2026-11-27T20:30:00Z"), now), [], "of a service of before");
});

test("mixed-up sides: the partner is the same thing of the other side at about the same time", () => {
  const entry = (id, side, at, more = {}) => ({ id, kind: "reading", at, body: { side }, text: "", ...more });
  const left = entry(1, "left", "2026-11-24T19:40:00Z");
  assert.equal(source.partner_of(left, [left, entry(2, "right", "2026-11-24T19:44:00Z")]).id, 2);
  assert.equal(source.partner_of(left, [left, entry(2, "left", "2026-11-24T19:44:00Z")]), null);
  assert.equal(source.partner_of(left, [left, entry(2, "right", "2026-11-24T20:44:00Z")]), null);
  assert.equal(source.partner_of(left, [left, entry(2, "right", "2026-11-24T19:44:00Z", { voided_by: 3 })]), null);
});

test("the lot that is filled in holds a whole set, what was chosen stands, and the side is never filled in", () => {
  assert.equal(source.filled_in({}, context, now).cells, "lot:8B@home");
  assert.equal(source.filled_in({ cells: "unknown" }, context, now).cells, "unknown");
  assert.equal(source.filled_in({}, context, now).side, undefined);
  assert.equal(source.filled_in({}, context, new Date("2026-11-25T06:10:00Z")).when, "evening");
  assert.equal(source.filled_in({ when: "now" }, context, new Date("2026-11-25T06:10:00Z")).when, "now");
});
