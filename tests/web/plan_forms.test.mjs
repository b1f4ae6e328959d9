// SPDX-License-Identifier: MIT
// From what is typed into the forms of plans to what is sent.
import assert from "node:assert/strict";
import test from "node:test";
import { FakeHousehold } from "./fake/household.mjs";
import { load_source } from "./support/source.mjs";

const source = await load_source(
  "forms/paced_more_model", "forms/settings_model", "forms/spans", "forms/visit_model", "forms/hospital_model", "forms/back_home_model", "forms/unit_model",
  "forms/end_model", "forms/compare_model", "forms/away_model", "words/questions", "time/place", "state/exchange",
);
const now = new Date("2026-11-24T19:40:00Z");
const at_home = "2026-11-24T20:40:00+01:00";

function context_of(name) {
  const fake = new FakeHousehold(name, () => now);
  return { household: fake.document(), forecast: fake.forecast(), zone: "Europe/Oslo", place: "at home", changing_times: ["21:30"] };
}

const calm = context_of("calm");
const body = (model) => model.posts[0]?.body;
const typed = { side: "left", rate: "12", inspiration: "0,28", amplitude: "4", paced: "spans", spans: JSON.stringify([{ days: ["mon", "tue"], from: "20:00", to: "00:00" }]) };

test("paced all day with a higher amplitude is open-ended, for the sides that were chosen, whose forecasts it changes", () => {
  const model = source.paced_more_model({ side: "both", how_long: "all_day", amplitude: "4,6", why: " infection " }, calm, now);
  assert.deepEqual(body(model), { from: at_home, sides: ["left", "right"], hours_per_day: 24, amplitude: 4.6, why: "infection" });
  assert.deepEqual(model.posts[0].sides, ["left", "right"]);
  assert.match(model.summary, /until someone says that it is over\.$/);
});

test("paced more names no side by itself, and wants hours or an amplitude", () => {
  assert.equal(source.paced_more_model({ how_long: "all_day" }, calm, now).errors.side, "Choose the side.");
  assert.ok(source.paced_more_model({ side: "left" }, calm, now).errors.how_long);
  assert.ok(source.paced_more_model({ side: "left", how_long: "as_set" }, calm, now).errors.amplitude);
  for (const hours of ["", "0", "25", "many"]) assert.ok(source.paced_more_model({ side: "left", how_long: "hours", hours }, calm, now).errors.hours, hours);
  assert.equal(body(source.paced_more_model({ side: "left", how_long: "hours", hours: "16" }, calm, now)).hours_per_day, 16);
});

test("settings are sent as they were typed in, a span to midnight ends at 24:00", () => {
  assert.deepEqual(body(source.settings_model(typed, calm, now)), {
    from: at_home, side: "left", rate_per_min: 12, inspiratory_fraction: 0.28, amplitude: 4, paced: [{ days: ["mon", "tue"], from: "20:00", to: "24:00" }],
  });
});

test("breathing in may be given in seconds, and is then sent in seconds", () => {
  const sent = body(source.settings_model({ ...typed, breath: "time", inspiration: "1.4" }, calm, now));
  assert.equal(sent.inspiratory_time_s, 1.4);
  assert.equal("inspiratory_fraction" in sent, false);
});

test("no value of the settings is filled in by itself", () => {
  const { errors, posts } = source.settings_model({ side: "left" }, calm, now);
  assert.deepEqual(posts, []);
  for (const field of ["rate", "inspiration", "amplitude", "paced"]) assert.ok(errors[field], field);
});

test("spans that grow say by how much a week and until how long a day, in whole minutes", () => {
  const growing = (minutes, up_to) => source.settings_model({ ...typed, grows: "yes", minutes, up_to }, calm, now);
  assert.deepEqual(body(growing("60", "14")).growth, { minutes_per_week: 60, up_to_hours: 14 });
  for (const minutes of ["", "0", "1.5", "1441"]) assert.ok(growing(minutes, "14").errors.minutes, minutes);
  for (const up_to of ["", "25", "0"]) assert.ok(growing("60", up_to).errors.up_to, up_to);
  assert.equal("growth" in body(source.settings_model({ ...typed, grows: "yes", minutes: "60", up_to: "14", paced: "all_day" }, calm, now)), false);
});

test("a span without a day, or without an end, is shown at that span", () => {
  const spans = JSON.stringify([{ days: [], from: "20:00", to: "21:00" }, { days: ["mon"], from: "20:00", to: "" }, { days: ["mon"], from: "20:00", to: "20:00" }]);
  assert.deepEqual(Object.keys(source.settings_model({ ...typed, spans }, calm, now).errors), ["span_0", "span_1", "span_2"]);
  assert.equal(source.settings_form_fields["/paced/1"], "span_1");
});

test("settings of a coming day are meant so, and are not asked about again", () => {
  const sent = body(source.settings_model({ ...typed, when: "other", other: "2026-12-01T09:00" }, calm, now));
  assert.deepEqual([sent.from, sent.confirmed], ["2026-12-01T09:00:00+01:00", ["future-date"]]);
  assert.equal("confirmed" in body(source.settings_model(typed, calm, now)), false);
});

test("what is recorded, filled in on a tap, is sent as it was; spans that have grown since are left open", () => {
  const recorded = calm.household.settings.left;
  const sent = body(source.settings_model({ side: "left", ...source.recorded_draft(recorded) }, calm, now));
  for (const field of ["rate_per_min", "inspiratory_fraction", "amplitude", "paced"]) assert.deepEqual(sent[field], recorded[field], field);
  const grown = source.recorded_draft({ ...recorded, growth: { minutes_per_week: 60, up_to_hours: 14 } });
  assert.equal("spans" in grown, false);
  assert.ok(source.settings_model({ side: "left", ...grown }, calm, now).errors.span_0);
});

test("a visit is sent with its sides and its time by the clock at home, and never asked about as a coming date", () => {
  const sent = body(source.visit_model({ side: "both", visit_at: "2026-12-03T09:00", note: "clinic" }, calm, now));
  assert.deepEqual(sent, { at: "2026-12-03T09:00:00+01:00", sides: ["left", "right"], note: "clinic" });
  assert.ok(source.visit_model({ side: "both" }, calm, now).errors.visit_at);
});

test("in hospital changes both forecasts, from now or from a coming day", () => {
  const model = source.hospital_model({}, calm, now);
  assert.deepEqual([body(model), model.posts[0].sides], [{ from: at_home }, ["left", "right"]]);
  const coming = body(source.hospital_model({ when: "other", other: "2026-12-01T09:00" }, calm, now));
  assert.deepEqual(coming, { from: "2026-12-01T09:00:00+01:00", confirmed: ["future-date"] });
});

test("back home with nothing answered is sent as not known, and the summary says so", () => {
  const model = source.back_home_model({}, calm, now);
  assert.deepEqual(body(model), { at: at_home, cells: { left: { are: "dont_know" }, right: { are: "dont_know" } }, settings: "dont_know", unit: "dont_know", unit_used: "dont_know" });
  assert.match(model.summary, /Left cells not known; right cells not known; settings not known; unit not known/);
});

test("fresh cells from the house are taken from stock, the hospital's are not, and a type that is not known is left out", () => {
  const home = (which) => body(source.back_home_model({ left_are: "fresh", left_which: which, right_are: "as_before" }, calm, now)).cells;
  assert.deepEqual(home("lot:7Q@hall cupboard"), { left: { are: "fresh", profile: "lr6-family", lot: "7Q", expires: "2032-06", from_stock: true }, right: { are: "as_before" } });
  assert.deepEqual(home("alkaline").left, { are: "fresh", profile: "lr6-family" });
  for (const which of ["unknown", undefined]) assert.deepEqual(home(which).left, { are: "fresh" });
});

test("the spare stands among the units to choose, the one in use does not", () => {
  assert.deepEqual(source.units_of(calm).map((unit) => unit.serial), ["u-2"]);
  const sent = body(source.unit_model({ unit: "u-2", when: "other", other: "2026-12-01T09:00" }, calm, now));
  assert.deepEqual(sent, { serial: "u-2", stimulator: "invented", from: "2026-12-01T09:00:00+01:00", confirmed: ["future-date"] });
  assert.ok(source.unit_model({}, calm, now).errors.unit);
  assert.deepEqual(Object.keys(source.unit_model({ unit: "other:" }, calm, now).errors), ["serial", "stimulator"]);
});

test("an end names its entry and changes the sides of what it ends", () => {
  const fever = context_of("fever");
  const { posts, summary } = source.end_model({ entry: "1" }, fever, now);
  assert.deepEqual([posts[0].body, posts[0].sides], [{ entry: 1, at: at_home }, ["left", "right"]]);
  assert.equal(summary, "It is over since today 20:40.");
});

test("an end taken back may change both forecasts, a plan of one side that side's", () => {
  const sides = (kind, named) => source.told_of({ kind, body: named }).sides;
  assert.deepEqual(sides("end", { entry: 1 }), ["left", "right"]);
  assert.deepEqual(sides("paced_more", { sides: ["left"] }), ["left"]);
  assert.deepEqual(sides("settings", { side: "right" }), ["right"]);
});

test("another cell is asked about for each chosen side, with nothing else in the question", () => {
  const asked = source.compare_model({ side: "both", what: "cell", cell: "lr6-family" });
  assert.deepEqual(asked.body, { cells: { left: "lr6-family", right: "lr6-family" } });
});

test("settings of both sides are typed in apart, and a refusal finds its side's field", () => {
  const of = (prefix, amplitude) => Object.fromEntries(Object.entries({ ...typed, amplitude }).map(([name, value]) => [prefix + name, value]));
  const asked = source.compare_model({ side: "both", what: "settings", ...of("left_", "4.6"), ...of("right_", "5") });
  assert.deepEqual(asked.errors, {});
  assert.deepEqual(asked.body.settings.map(({ side, amplitude }) => [side, amplitude]), [["left", 4.6], ["right", 5]]);
  assert.equal(asked.fields["/settings/1/amplitude"], "right_amplitude");
  assert.ok(source.compare_model({ side: "left", what: "settings" }).errors.left_rate);
  assert.ok(source.compare_model({}).errors.what);
});

test("a stay may have clocks of its own, by a zone that is one, and a changing time there", () => {
  const stay = (more) => source.away_model({ from: "2026-12-01", to: "2026-12-06", clocks: "other", ...more }, calm);
  const sent = body(stay({ zone: "America/New_York", changing_time: "20:00" }));
  assert.deepEqual([sent.zone, sent.changing_times], ["America/New_York", ["20:00"]]);
  for (const zone of ["", "the sea", "Europe/Nowhere"]) assert.ok(stay({ zone }).errors.zone, zone);
});

test("while away the changing times are those of the stay, and the place is named", () => {
  const stays = [{ from: "2026-11-20T00:00:00+01:00", to: "2026-11-30T00:00:00+01:00", changing_times: ["20:00"] }];
  assert.deepEqual(source.changing_times_now({ ...calm.household, stays }, now), ["20:00"]);
  assert.deepEqual(source.changing_times_now(calm.household, now), ["21:30"]);
  assert.equal(source.place_words("America/New_York", "Europe/Oslo"), "in New York");
});

test("each new question has its answers, and what would only help is not asked for where a change is", () => {
  const acts = (code, act) => source.offers_for(code, act).map((offer) => offer.act);
  assert.deepEqual(acts("still_paced_more"), ["still", "end"]);
  assert.deepEqual(acts("which_settings"), ["settings"]);
  assert.deepEqual(acts("which_unit"), ["unit"]);
  assert.deepEqual(acts("a_reading_would_help"), ["reading"]);
  assert.equal(source.is_shown("a_reading_would_help", true), false);
  assert.equal(source.is_shown("a_reading_would_help", false), true);
});
