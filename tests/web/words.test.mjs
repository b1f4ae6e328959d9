// SPDX-License-Identifier: MIT
// The words of the page: the table of phrases, odds, times of the household's zone.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test from "node:test";
import { load_source } from "./support/source.mjs";

const source = await load_source("words/phrases", "words/odds", "words/moments", "words/names", "words/cautions", "time/zone", "state/side_view", "state/alarms", "state/dated", "words/clocks", "time/service_clock", "words/take", "words/seen");
const table = JSON.parse(readFileSync(new URL("../../web/src/words/phrases.json", import.meta.url), "utf8"));
const plain = (text) => text.replaceAll("\u00a0", " ");

test("there are four phrases, each with its words and its limit", () => {
  assert.deepEqual(Object.keys(table).sort(), ["change_before_tonight", "change_now", "expected_to_last_tonight", "no_forecast"]);
  assert.equal(table.expected_to_last_tonight.words, "Expected to last tonight.");
  assert.equal(table.change_before_tonight.words, "Change before tonight.");
  assert.equal(table.change_now.words, "Change now.");
  assert.equal(table.no_forecast.words, "No forecast.");
  for (const phrase of Object.values(table)) assert.match(phrase.limit, /^[A-Z].*\.$/);
});

test("a limit of the table is filled with its time, and left out where that is not known", () => {
  assert.equal(source.phrase_of({ phrase: "change_before_tonight" }, "today 21:30").limit, "By today 21:30.");
  assert.equal(source.phrase_of({ phrase: "expected_to_last_tonight" }).limit, "");
});

test("a phrase that is not in the table reads as no forecast, whatever sentence came with it", () => {
  const read = source.phrase_of({ phrase: "all_is_well", sentence: "All is well." });
  assert.equal(read.words, "No forecast.");
  assert.equal(read.code, "no_forecast");
});

test("the service's own sentence and limit are shown where the phrase is known", () => {
  const read = source.phrase_of({ phrase: "change_now", sentence: "Change now.", limit: "A limit." });
  assert.equal(read.limit, "A limit.");
});

test("a risk below 1 in 10 000 is never given a smaller figure", () => {
  for (const risk of [0, 1e-12, 1e-5, 9.9e-5]) assert.equal(plain(source.odds_words(risk)), "less than 1 in 10 000");
});

test("a risk in words is never smaller than the risk computed", () => {
  for (let risk = 1e-4; risk < 0.99; risk *= 1.07) {
    const words = plain(source.odds_words(risk)).replace(/(\d) (\d)/g, "$1$2");
    const [, top, bottom] = /(\d+) in (\d+)/.exec(words);
    assert.ok(Number(top) / Number(bottom) >= risk * (1 - 1e-6), `${risk}: ${words}`);
  }
});

test("what to take names lot and place where they are known, and both cells of the side", () => {
  const take = (to_change) => source.take_words({ cells: 2, ...to_change }, "right");
  assert.equal(take({ lot: "7Q", place: "hall cupboard" }), "Take 2 new cells, lot 7Q, from the hall cupboard. Change the 2 right cells together.");
  assert.equal(take({ lot: "7Q", place: "home" }), "Take 2 new cells, lot 7Q. Change the 2 right cells together.");
  assert.equal(take({ lot: null, place: "school bag" }), "Take 2 new cells of one type and lot from the school bag. Change the 2 right cells together.");
  assert.equal(take({ lot: null, place: null }), "Take 2 new cells of one type and lot. Change the 2 right cells together.");
  assert.equal(take({ cells: 3, lot: "7Q" }), "Take 3 new cells, lot 7Q. Change all 3 right cells together.");
});

test("the newest reading of that side is told with its own gauge, never the other side's nor one undone", () => {
  const entry = (id, side, at, percent, voided_by = null) => ({ id, kind: "reading", at, voided_by, body: { side, percent } });
  const entries = [entry(1, "left", "2026-11-24T18:05:00Z", 96), entry(2, "right", "2026-11-24T19:00:00Z", 40), entry(3, "left", "2026-11-24T19:10:00Z", 12, 4)];
  const said = source.seen_words(entries, "left", "Europe/Oslo", new Date("2026-11-24T19:40:00Z"));
  assert.match(said, /^The unit's gauge for the left side read 96 % today 19:05\./);
  assert.equal(source.seen_words([], "left", "Europe/Oslo", new Date()), null);
});

test("section 9's sentence stands word for word", () => {
  assert.equal(source.disclaimer, "An estimate. The unit's own alarm comes first: act on it at once.");
  const all = source.more.join(" ");
  for (const needed of ["antenna", "backup ventilation", "clinician", "alkaline", "fresh cells in both sides"]) assert.ok(all.includes(needed), needed);
});

// Europe/Oslo: +01:00 in winter, +02:00 in summer; clocks go forward on 2026-03-29 at 02:00 and back on 2026-10-25 at 03:00 (EU Directive 2000/84/EC).
test("times carry the offset of the household's zone on their own day", () => {
  assert.equal(source.rfc3339(new Date("2026-11-24T20:30:00Z"), "Europe/Oslo"), "2026-11-24T21:30:00+01:00");
  assert.equal(source.rfc3339(new Date("2026-07-01T19:30:00Z"), "Europe/Oslo"), "2026-07-01T21:30:00+02:00");
  assert.equal(source.rfc3339(new Date("2026-01-15T12:00:00Z"), "America/St_Johns"), "2026-01-15T08:30:00-03:30");
});

test("a time that comes twice is the first, and one that is skipped is as long after the change", () => {
  const oslo = (text) => source.moment_of(source.read_wall(text), "Europe/Oslo").toISOString();
  assert.equal(oslo("2026-10-25T02:30"), "2026-10-25T00:30:00.000Z");
  assert.equal(oslo("2026-03-29T02:30"), "2026-03-29T01:30:00.000Z");
  assert.equal(oslo("2026-11-24T21:30"), "2026-11-24T20:30:00.000Z");
});

test("told how the clocks stand, times are the same as Intl has them, and Intl is asked only beyond", () => {
  const moments = Array.from({ length: 400 }, (_, index) => new Date(Date.parse("2026-10-20T00:10:00Z") + index * 47 * 60_000));
  const say = (at) => source.rfc3339(at, "Europe/Berlin");
  const by_intl = moments.map(say);
  source.learn_clocks("Europe/Berlin", [{ from: "2026-10-21T00:00:00Z", to: "2026-10-25T01:00:00Z", offset_min: 120 }, { from: "2026-10-25T01:00:00Z", to: "2026-10-30T00:00:00Z", offset_min: 60 }]);
  assert.deepEqual(moments.map(say), by_intl);
  source.learn_clocks("Europe/Berlin", [{ from: "2026-11-01T00:00:00Z", to: "2026-12-01T00:00:00Z", offset_min: 345 }]);
  assert.equal(say(new Date("2026-11-24T19:40:00Z")), "2026-11-25T01:25:00+05:45", "what the service told counts");
  assert.equal(say(new Date("2026-12-24T19:40:00Z")), "2026-12-24T20:40:00+01:00");
  source.learn_clocks("Europe/Berlin", undefined);
  assert.equal(say(new Date("2026-11-24T19:40:00Z")), "2026-11-25T01:25:00+05:45", "an older service's forecast takes nothing away");
});

test("last evening is the changing time that passed last, also across a change of clocks", () => {
  const evening = (now) => source.last_evening("21:30", new Date(now), "Europe/Oslo").toISOString();
  assert.equal(evening("2026-11-24T19:40:00Z"), "2026-11-23T20:30:00.000Z");
  assert.equal(evening("2026-11-24T22:00:00Z"), "2026-11-24T20:30:00.000Z");
  assert.equal(evening("2026-03-29T10:00:00Z"), "2026-03-28T20:30:00.000Z");
});

test("days are named from where the household lives", () => {
  const now = new Date("2026-11-24T23:30:00Z");  // already Wednesday in Oslo
  const say = (at) => source.moment_words(new Date(at), now, "Europe/Oslo");
  assert.equal(say("2026-11-24T20:30:00Z"), "yesterday 21:30");
  assert.equal(say("2026-11-24T23:10:00Z"), "today 00:10");
  assert.equal(say("2026-11-27T20:30:00Z"), "Fri 27 Nov, 21:30");
  assert.equal(source.heading_words(now, "Europe/Oslo"), "Night from Tuesday to Wednesday, 00:30");
});

test("a day more than half a year away has its year, so that it is not taken for the nearer one of its date", () => {
  const now = new Date("2026-11-24T12:00:00Z");
  const say = (at) => source.moment_words(new Date(at), now, "Europe/Oslo");
  assert.equal(say("2027-04-01T20:30:00Z"), "Thu 1 Apr, 22:30");
  assert.equal(say("2027-09-02T20:30:00Z"), "Thu 2 Sep 2027, 22:30");
  assert.equal(say("2025-11-25T20:30:00Z"), "Tue 25 Nov 2025, 21:30");
});

test("a plan of one side names it, once", () => {
  const text = "Paced all day since Fri 20 Nov.";
  assert.equal(source.plan_words({ sides: ["left"], text }), "Left: paced all day since Fri 20 Nov.");
  assert.equal(source.plan_words({ sides: ["left", "right"], text }), text);
  assert.equal(source.plan_words({ sides: [], text }), text);
  assert.equal(source.plan_words({ sides: ["left"], text: "Left: new settings from Fri 20 Nov." }), "Left: new settings from Fri 20 Nov.");
});

test("a forecast is old from 12 hours on, and no sooner", () => {
  const forecast = { as_of: "2026-11-24T08:00:00Z" };
  assert.equal(source.is_old(forecast, new Date("2026-11-24T19:59:59Z")), false);
  assert.equal(source.is_old(forecast, new Date("2026-11-24T20:00:00Z")), true);
});

// Section 9.3: after a warning, until the next change, that side shows only the order to change.
test("a warning goes before everything but a change of that side on its way", () => {
  const told = { phrase: "change_now", sentence: "The unit warned at 03:10. Change the left cells now.", warned_at: "2026-11-24T02:10:00Z" };
  const forecast = { as_of: "2026-11-20T00:00:00Z", zone: "Europe/Oslo", sides: { left: told, right: { phrase: "no_forecast" } }, stock: [] };
  const now = new Date("2026-11-24T08:00:00Z");
  assert.equal(source.view_of(forecast, "left", [], now), "alarm");
  assert.equal(source.view_of(forecast, "right", [], now), "old");
  const on_the_way = (path, at, body) => ({ side: "left", path, body: { side: "left", at, ...body } });
  const reading = on_the_way("readings", "2026-11-24T07:00:00Z", { percent: 71 });
  const change = on_the_way("cell-changes", "2026-11-24T02:40:00Z");
  for (const one of [reading, { side: null, sides: ["left", "right"], path: "paced-more", body: {} }, on_the_way("cell-changes", "2026-11-23T20:30:00Z")]) {
    assert.equal(source.view_of(forecast, "left", [one], now), "alarm", one.path);
    assert.equal(source.asks_for_act(forecast, "left", [one], now), true);
    assert.deepEqual(source.lines_of(forecast, [one], now)[0], { side: "left", words: "change now.", act: true });
  }
  assert.equal(source.view_of(forecast, "left", [change, reading], now), "waiting");
  assert.equal(source.view_of(forecast, "left", [change, on_the_way("readings", "2026-11-24T07:30:00Z", { warning: true })], now), "alarm", "the fresh cells too");
});

test("a warning or a stop on its way is an alarm at once, of cells that are in still, and nothing dated is left of that side", () => {
  const told = { phrase: "expected_to_last_tonight", sentence: "Expected to last tonight.", limit: "Change by Fri 27 Nov, 21:30.", change_by: "2026-11-27T20:30:00Z", nights: [{}], cells_since: "2026-11-20T20:30:00Z" };
  const forecast = { as_of: "2026-11-24T07:00:00Z", zone: "Europe/Oslo", sides: { left: told, right: told }, stock: [] };
  const now = new Date("2026-11-24T08:00:00Z");
  const noted = (at, seen) => [{ side: "left", path: "readings", body: { side: "left", at, ...seen } }];
  for (const seen of [{ warning: true }, { stopped: true }]) {
    const waiting = noted("2026-11-24T07:55:00Z", seen);
    assert.equal(source.view_of(forecast, "left", waiting, now), "alarm");
    assert.equal(source.view_of(forecast, "right", waiting, now), "forecast");
    assert.deepEqual(source.lines_of(forecast, waiting, now)[0], { side: "left", words: "change now.", act: true });
    const left = source.with_alarms(forecast, waiting).sides.left;
    assert.deepEqual([left.limit, left.change_by, left.nights], ["", null, []]);
    assert.equal(source.is_due(left, now), true);
    assert.equal(source.view_of(forecast, "left", noted("2026-11-20T03:10:00Z", seen), now), "waiting", "of the cells before");
  }
});

// Design, 9.2: go by the worse. What waits hides how sure it is and later dates; the order to change stands until it is carried out.
test("an order to change stands beside whatever waits, but for a change of these cells", () => {
  const due = { phrase: "change_before_tonight", change_by: "2026-11-24T20:30:00Z", cells_since: "2026-11-15T20:30:00Z" };
  const calm = { phrase: "expected_to_last_tonight", change_by: "2026-11-27T20:30:00Z", cells_since: "2026-11-15T20:30:00Z" };
  const wrong_cells = { phrase: "no_forecast", questions: [{ code: "wrong_cells" }] };
  const now = new Date("2026-11-24T19:40:00Z");
  const at = "2026-11-24T19:35:00Z";
  const view = (left, one, as_of = "2026-11-24T19:30:00Z") => source.view_of({ as_of, zone: "Europe/Oslo", sides: { left, right: calm }, stock: [] }, "left", [{ side: "left", body: { side: "left", at }, ...one }], now);
  const reading = { path: "readings", body: { side: "left", at, percent: 12 } };
  const plan = { side: null, sides: ["left", "right"], path: "paced-more", body: {} };
  const change = { path: "cell-changes" };
  for (const asks of [due, { ...due, phrase: "change_now" }, wrong_cells]) {
    for (const one of [reading, plan, { path: "voids", body: { entry: 4 } }]) assert.equal(view(asks, one), "order", `${asks.phrase}, ${one.path}`);
    assert.equal(view(asks, change), "waiting", asks.phrase);
    assert.equal(view(asks, reading, "2026-11-24T07:00:00Z"), "old", "it says what it said then");
  }
  assert.equal(view(due, { ...change, body: { side: "left", at: "2026-11-14T20:30:00Z" } }), "order", "of the cells before");
  assert.equal(view(calm, reading), "waiting");
  assert.equal(view({ ...due, beyond: true }, reading), "waiting");
});

test("a warning is named with its day, by the clock of the one who reads", () => {
  const told = { phrase: "change_now", sentence: "Change now.", warned_at: "2026-11-24T02:10:00Z" };
  const say = (now) => source.alarm_sentence("left", told, "Europe/Oslo", now && new Date(now));
  assert.equal(say("2026-11-24T19:40:00Z"), "The unit warned at 03:10 today. Change the left cells now.");
  assert.equal(say("2026-11-24T23:30:00Z"), "The unit warned at 03:10 yesterday. Change the left cells now.");
  assert.equal(say(null), "The unit warned at 03:10 on Tue 24 Nov. Change the left cells now.");
});

test("the small hours of tonight are those that run until people get up, then the next ones", () => {
  const small_hours = (now) => source.small_hours_of_tonight("Europe/Oslo", new Date(now)).toISOString();
  assert.equal(small_hours("2026-11-24T19:40:00Z"), "2026-11-25T02:00:00.000Z");
  assert.equal(small_hours("2026-11-25T02:10:00Z"), "2026-11-25T02:00:00.000Z");
  assert.equal(small_hours("2026-11-25T05:00:00Z"), "2026-11-26T02:00:00.000Z");
});

const row = (day, window, tonight = false) => ({ from: `2026-11-${day}T20:30:00Z`, to: `2026-11-${day + 1}T20:30:00Z`, risk: 0, window, tonight });
const dated = (left, now) => source.by_the_clock({ zone: "Europe/Oslo", sides: { left, right: { phrase: "no_forecast" } } }, new Date(now)).sides.left;

test("the next night's row is never told more calmly than it was computed, and after the last row there is no forecast", () => {
  const left = { phrase: "expected_to_last_tonight", sentence: "Expected to last tonight.", change_by: "2026-11-26T20:30:00Z", nights: [row(24, "expected", true), row(25, "expected"), row(26, "doubtful")] };
  assert.equal(dated(left, "2026-11-24T19:40:00Z").phrase, "expected_to_last_tonight");
  assert.equal(dated(left, "2026-11-25T09:00:00Z").phrase, "expected_to_last_tonight");
  assert.equal(dated(left, "2026-11-25T09:00:00Z").nights.length, 2);
  assert.equal(dated(left, "2026-11-26T09:00:00Z").phrase, "change_before_tonight");
  assert.equal(dated(left, "2026-11-28T09:00:00Z").phrase, "no_forecast");
  assert.equal(dated({ ...left, phrase: "change_now" }, "2026-11-25T09:00:00Z").phrase, "change_now");
});

test("a clock that is off by more than ten minutes is asked about", () => {
  const now = new Date("2026-11-24T19:40:30Z");
  const service_ahead = (minutes) => source.learn_clock(new Date(Date.now() + minutes * 60_000).toUTCString());
  service_ahead(-9);
  assert.equal(source.clocks_words(now, "Europe/Oslo"), null);
  service_ahead(25);
  assert.equal(source.clocks_words(now, "Europe/Oslo").title, "This phone's clock shows 20:40, the service's 21:05. Which is right?");
});
