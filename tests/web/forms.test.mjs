// SPDX-License-Identifier: MIT
// From what is typed to what is sent.
import assert from "node:assert/strict";
import test from "node:test";
import { FakeHousehold } from "./fake/household.mjs";
import { load_source } from "./support/source.mjs";

const source = await load_source("forms/change_model", "forms/reading_model", "forms/stock_model", "forms/away_model", "forms/context");
const now = new Date("2026-11-24T19:40:00Z");

function context_of(name) {
  const fake = new FakeHousehold(name, () => now);
  return { household: fake.document(), forecast: fake.forecast(), zone: "Europe/Oslo", changing_times: ["21:30"] };
}

const calm = context_of("calm");
const body = (model) => model.posts[0].body;

test("a change without a side is not sent, and says what is missing", () => {
  const model = source.change_model({ cells: "lot:7Q@hall cupboard" }, calm, now);
  assert.deepEqual(model.posts, []);
  assert.equal(model.errors.side, "Choose the side.");
});

test("a change from a lot in the house names lot, place and profile, and takes it from stock", () => {
  const model = source.change_model({ side: "left", cells: "lot:7Q@hall cupboard" }, calm, now);
  assert.deepEqual(body(model), {
    at: "2026-11-24T20:40:00+01:00", side: "left", reason: "planned", from_stock: true,
    cells: { profile: "lr6-family", lot: "7Q", expires: "2032-06", place: "hall cupboard", age: "fresh" },
  });
});

test("cells of no recorded type are of the type put in last, and the summary says so", () => {
  const untyped = { ...calm, household: { ...calm.household, lots: calm.household.lots.map(({ profile, ...lot }) => lot) } };
  const model = source.change_model({ side: "left", cells: "lot:7Q@hall cupboard" }, untyped, now);
  assert.equal(source.type_is_asked({ cells: "lot:7Q@hall cupboard" }, untyped), false);
  assert.equal(body(model).cells.profile, "lr6-family");
  assert.match(model.summary, /of the type put in last \(LR6\)/);
});

test("a brand is never assumed: where nothing says the type, the label is asked, and unanswered it stays unrecorded", () => {
  const untyped = context_of("untyped");
  const sent = (label) => source.change_model({ side: "left", cells: "lot:7Q@hall cupboard", ...(label && { label }) }, untyped, now);
  assert.ok(source.type_is_asked({ cells: "lot:7Q@hall cupboard" }, untyped));
  for (const label of [undefined, "unknown"]) assert.equal("profile" in body(sent(label)).cells, false);
  assert.match(sent().summary, /type not recorded/);
  assert.equal(body(sent("alkaline")).cells.profile, "lr6-family");
  assert.equal(body(sent("rechargeable")).cells.profile, "rechargeable");
});

test("after wrong cells the type put in last is no guide", () => {
  const wrong = context_of("wrong");
  const untyped = { ...wrong, household: { ...wrong.household, lots: wrong.household.lots.map(({ profile, ...lot }) => lot) } };
  assert.ok(source.type_is_asked({ cells: "lot:7Q@hall cupboard" }, untyped));
});

test("the lot that expires first stands first", () => {
  assert.deepEqual(source.cell_lots(calm).map((lot) => lot.lot), ["7Q", "8B"]);
});

test("what is recalled or past its date is never filled in, and stands behind what may be used", () => {
  const lot = (name, more) => ({ item: "cells", lot: name, quantity: 4, expires: "2033-01", place: "home", ...more });
  const household = { as_of: "2026-11-24T20:40:00+01:00", lots: [lot("recalled", { expires: "2030-01", recalled: true }), lot("past", { expires: "2026-10" }), lot("last month", { expires: "2026-11" }), lot("late")] };
  const context = { ...calm, household: { ...calm.household, ...household } };
  assert.deepEqual(source.cell_lots(context).map((one) => one.lot), ["last month", "late", "past", "recalled"]);
  assert.equal(source.filled_in({}, context, now).cells, "lot:last month@home");
});

test("both sides are two records, each with its own side", () => {
  const model = source.change_model({ side: "both", cells: "unknown" }, calm, now);
  assert.deepEqual(model.posts.map((post) => post.side), ["left", "right"]);
});

test("a side that is not due is asked about once more, a side that is due is not", () => {
  // In this household the right side is due tonight, and the left one in three days.
  assert.deepEqual(source.change_model({ side: "both", cells: "unknown" }, context_of("due"), now).not_due, ["left"]);
});

test("after a warning the reason is the warning, unless another is chosen", () => {
  const warned = context_of("warned");
  assert.equal(source.reason_of({ side: "left" }, warned), "warning");
  assert.equal(source.reason_of({ side: "right" }, warned), "planned");
  assert.equal(source.reason_of({ side: "left", reason: "fault" }, warned), "fault");
});

test("other cells come from no stock, and rechargeable ones are recorded as such", () => {
  const sent = body(source.change_model({ side: "left", cells: "other", label: "rechargeable" }, calm, now));
  assert.equal(sent.from_stock, false);
  assert.equal(sent.cells.profile, "rechargeable");
});

test("a percent gauge takes 0 to 100 and a comma, and nothing else", () => {
  const percent = (text) => source.reading_model({ side: "left", percent: text }, calm, now);
  assert.equal(body(percent("62,5")).percent, 62.5);
  assert.equal(body(percent("0")).percent, 0);
  for (const wrong of ["", "101", "-1", "much", "6 2"]) assert.ok(percent(wrong).errors.percent, wrong);
});

test("a gauge of five steps is sent as step of five, with nought as a step", () => {
  const sent = body(source.reading_model({ side: "left", step: "0", condition: "idle" }, context_of("steps"), now));
  assert.deepEqual([sent.step, sent.of, sent.condition], [0, 5, "idle"]);
});

test("volts of each cell may be below nought, for a reversed one", () => {
  const sent = body(source.reading_model({ side: "right", seen: "volts", volts_how: "each", cell_V_0: "1.31", cell_V_1: "-0.2" }, calm, now));
  assert.deepEqual(sent.cell_V, [1.31, -0.2]);
});

test("a stock count is whole pieces of nought or more", () => {
  const count = (quantity) => source.stock_model({ item: "cells", lot: "7Q", place: "home", quantity }, calm, now);
  assert.equal(body(count("0")).quantity, 0);
  for (const wrong of ["-1", "1.5", ""]) assert.ok(count(wrong).errors.quantity, wrong);
});

test("a delivery, a use and a discard go to routes of their own", () => {
  const path = (happened) => source.stock_model({ happened, item: "cells", place: "home", quantity: "24" }, calm, now).posts[0].path;
  assert.deepEqual([path("counted"), path("arrived"), path("used"), path("discarded")], ["stock-counts", "deliveries", "uses", "discards"]);
});

test("an empty shelf is a count; nothing used, arrived or thrown away is no record", () => {
  const faults = (happened) => source.stock_model({ happened, item: "tape", place: "home", quantity: "0" }, calm, now).errors;
  assert.deepEqual(faults("counted"), {});
  for (const happened of ["arrived", "used", "discarded"]) assert.ok(faults(happened).quantity, happened);
});

test("cells that went into a side are recorded as a change: said where cells are recorded as used", () => {
  assert.ok(source.asks_no_change({ happened: "used", item: "cells" }));
  assert.ok(!source.asks_no_change({ happened: "used", item: "tape" }));
  assert.ok(!source.asks_no_change({ happened: "discarded", item: "cells" }));
});

test("a stay covers its first and last day whole, by the clock at home", () => {
  assert.deepEqual(body(source.away_model({ from: "2026-12-01", to: "2026-12-06" }, calm)), { from: "2026-12-01T00:00:00+01:00", to: "2026-12-06T23:59:00+01:00" });
  assert.ok(source.away_model({ from: "2026-12-06", to: "2026-12-01" }, calm).errors.to);
});

test("a refused place finds its field, and the closest one if it lies deeper", () => {
  assert.equal(source.field_of("/cells/lot", source.change_fields), "lot");
  assert.equal(source.field_of("/cells/place", source.change_fields), "cells");
  assert.equal(source.field_of("/household", source.change_fields), null);
});
