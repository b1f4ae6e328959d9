// SPDX-License-Identifier: MIT
// The pure parts of the planner's desk: dates in words, which rows a view shows, which are drawn, what may be said of a plan.
import assert from "node:assert/strict";
import test from "node:test";
import { make_rows } from "./fake/planner/board.mjs";
import { load_source } from "./support/source.mjs";
import { evening } from "./support/states.mjs";

const source = await load_source("desk/common/dates", "desk/common/words", "desk/list/view", "desk/list/windowed", "desk/rounds/plan_model", "desk/rounds/street", "desk/inout/files", "desk/costs/curve", "desk/costs/labels", "desk/household/asking");
const rows = make_rows(evening, 200);
const listed = source.lay_out(rows);
const shown = (part) => source.rows_of(listed, { ...source.first_view, ...part });

test("a time with its offset is told by the clock of that place, and dates carry their weekday", () => {
  // 24 November 2026 is a Tuesday (ISO 8601 calendar); 3 December of that year a Thursday.
  assert.equal(source.moment("2026-11-24T09:12:00+01:00", "2026-11-24"), "today 09:12");
  assert.equal(source.moment("2026-11-23T23:50:00+01:00", "2026-11-24"), "yesterday 23:50");
  assert.equal(source.date_words("2026-12-03", "2026-11-24"), "Thu 3 Dec");
  assert.equal(source.date_words("2027-12-03", "2026-11-24"), "Fri 3 Dec 2027");
  assert.equal(source.from_today("2026-11-24", "2026-11-24"), "today");
  assert.equal(source.from_today("2026-11-20", "2026-11-24"), "4 days ago");
});

test("a week begins on its Monday, also across the end of a year", () => {
  assert.equal(source.week_of("2026-11-29"), "2026-11-23");
  assert.equal(source.week_of("2027-01-01"), "2026-12-28");
  assert.equal(source.week_of("2026-11-23"), "2026-11-23");
});

test("every word that is typed has to be in the row, in any order and case", () => {
  const found = shown({ text: "NORTH h-0001" });
  assert.ok(found.length > 5);
  for (const row of found) assert.ok(row.area === "north" && row.household.includes("h-0001"));
  assert.deepEqual(shown({ text: "h-0001 north" }), found);
  assert.deepEqual(shown({ text: "nowhere" }), []);
});

test("a view by what a household needs shows those and no others, and closed ones stand apart", () => {
  const late = shown({ show: "does_not_reach" });
  assert.ok(late.length > 0 && late.every((row) => row.attention.includes("does_not_reach")));
  const closed = source.lay_out(rows.map((row, index) => (index === 0 ? { ...row, closed_at: evening.toISOString() } : row)));
  assert.equal(source.rows_of(closed, source.first_view).length, rows.length - 1);
  assert.deepEqual(source.rows_of(closed, { ...source.first_view, show: "closed" }).map((row) => row.household), [rows[0].household]);
});

test("a closed household is on no list but its own, unless a message or a delivery is open there: then it stands first", () => {
  const closed_at = evening.toISOString();
  const given = rows.map((row, index) => (index < 2 ? { ...row, closed_at, attention: index ? [] : ["closed_with_open"] } : row));
  const open = source.rows_of(source.lay_out(given), { ...source.first_view, show: "closed_with_open" });
  assert.deepEqual(open.map((row) => row.household), [rows[0].household]);
  assert.deepEqual(source.with_attention(given, "closed_with_open"), open);
  assert.ok(source.rows_of(source.lay_out(given), { ...source.first_view, show: "attention" }).every((row) => row.closed_at === null));
});

test("who was asked for a count waits for it until it comes, and may be asked again after two weeks", () => {
  const [counted, later] = ["2026-11-20T18:00:00+01:00", "2026-11-22T18:00:00+01:00"];
  const waits = (asked_at, last_count_at, today) => source.waits_for_count({ asked_at, last_count_at }, today);
  assert.equal(waits(null, null, "2026-11-24"), null);
  assert.equal(waits(counted, null, "2026-11-24"), counted);
  assert.equal(waits(later, counted, "2026-11-24"), later);
  assert.equal(waits(counted, later, "2026-11-24"), null);
  assert.equal(waits(counted, null, "2026-12-04"), counted);
  assert.equal(waits(counted, null, "2026-12-05"), null);
});

test("an order by date puts what has none last, and leaves equals in the order of urgency", () => {
  const dates = shown({ sort: "deliver_by" }).map((row) => row.deliver_by ?? "9999");
  assert.deepEqual(dates, [...dates].sort());
  assert.deepEqual(shown({ sort: "urgency" }).map((row) => row.household), rows.map((row) => row.household));
});

test("the blocks drawn cover the screen, and those not drawn keep their height", () => {
  const heights = Array.from({ length: 200 }, (_, index) => 500 + (index % 7) * 40);
  const height = (block) => heights[block];
  const whole = heights.reduce((sum, one) => sum + one, 0);
  for (const top of [-300, 0, 1, 499, 5_000, 61_234, whole - 900, whole + 4_000]) {
    const range = source.range_of(200, height, top, top + 900);
    const drawn = heights.slice(range.from, range.to).reduce((sum, one) => sum + one, 0);
    assert.equal(range.above + drawn + range.below, whole, `at ${top}`);
    assert.ok(range.to > range.from, `at ${top} something is drawn`);
    if (top >= 0 && top < whole) assert.ok(range.above <= top && range.above + drawn >= Math.min(top + 900, whole), `at ${top}`);
  }
});

test("an expected shortfall is never told smaller than it was computed", () => {
  assert.equal(source.shortfall_words(0).replaceAll("\u00a0", " "), "fewer than 1 in 10 000");
  for (let risk = 1.1e-4; risk < 200; risk *= 1.31) assert.ok(Number(source.shortfall_words(risk)) >= risk * (1 - 1e-9), `${risk}: ${source.shortfall_words(risk)}`);
});

test("of how few the visits are no more is said than is proven", () => {
  const figures = { visits: 812, visits_bound: 800, gap: 0.015, least_visits_proven: false };
  assert.equal(source.merit_words(figures), "812 visits, at most 1.5 % above the fewest that any plan can have.");
  assert.match(source.merit_words({ ...figures, visits_bound: null, gap: null }), /not known/);
  assert.match(source.merit_words({ ...figures, least_visits_proven: true }), /^812 visits: no plan makes do with fewer/);
});

test("a stop can go to a round that has not been loaded, its own area's first", () => {
  const round = (name, area, date, state = "open") => ({ round: name, area, date, state });
  const rounds = [round("a", "north", "2026-12-01"), round("b", "south", "2026-11-25"), round("c", "south", "2026-11-30"), round("d", "south", "2026-11-26", "loaded")];
  assert.deepEqual(source.rounds_for(rounds, "south", "b").map((one) => one.round), ["c", "a"]);
});

test("a street tells in words what it draws", () => {
  assert.equal(source.street_words(["planned", "plot", "received", "planned"]), "1 received, 2 planned, 1 free");
});

test("a file is known by its columns before its name", () => {
  assert.equal(source.kind_of("homes.csv", "household,item,lot,quantity,unit,expires,place,counted_at"), "counts");
  assert.equal(source.kind_of("list.csv", "household,area,zone,changing_times"), "households");
  assert.equal(source.kind_of("items.csv", "what,ever"), "items");
});

test("the bytes of a file reach the service as they are, whatever their encoding", () => {
  const bytes = new Uint8Array([0xe5, 0x2c, 0xff, 0x0a]);
  assert.deepEqual(new Uint8Array(Buffer.from(source.import_file("a.csv", bytes).csv_base64, "base64")), bytes);
});

test("an axis has whole steps", () => {
  assert.equal(source.nice_step(2_800, 5), 1_000);
  assert.equal(source.nice_step(41, 5), 10);
});

test("names beside lines that end close together are pushed apart, in their order and within the drawing", () => {
  assert.deepEqual(source.spread([100, 50, 150], 20, 0, 200), [100, 50, 150]);
  assert.deepEqual(source.spread([100, 102, 104], 20, 0, 200), [100, 120, 140]);
  assert.deepEqual(source.spread([190, 195], 20, 0, 200), [180, 200]);
  assert.deepEqual(source.spread([], 20, 0, 200), []);
});

test("of marks along an axis the ends stay, and those between them that have room", () => {
  const marks = (places) => places.map((at, index) => ({ at, words: `mark ${index}` }));
  assert.equal(source.with_room(marks([0, 300, 600]), 10).length, 3);
  assert.deepEqual(source.with_room(marks([0, 30, 60]), 10).map((one) => one.at), [0, 60]);
  assert.deepEqual(source.with_room([], 10), []);
});
