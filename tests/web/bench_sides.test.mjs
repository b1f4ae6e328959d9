// SPDX-License-Identifier: MIT
// A side's history, units, lots and worn parts on the bench: the drawings have their table, comparisons their words, every
// record its undo. The charts' own figures are the service's; here it is tried that they are shown.
import assert from "node:assert/strict";
import { test } from "node:test";
import { with_bench } from "./support/bench.mjs";
import { load_source } from "./support/source.mjs";

const { even_steps, points_of, more_words, signed, chance } = await load_source("bench/side_points", "bench/words");
const press = (page, name) => page.getByRole("button", { name, exact: true }).click();
const history = "bench/side?household=h-0142&side=left";

test("a chart's steps are even, hold nought, and lie within its ends", () => {
  assert.deepEqual(even_steps(-12, 23), [-10, 0, 10, 20]);
  assert.deepEqual(even_steps(-0.9, 1.4, 4), [0, 1]);
});

test("the drawing joins sets by when they came out, leaves out what was not read, and marks changes where they happened", () => {
  const chart = { expected_percent: 0, expected_low_percent: -9, expected_high_percent: 9, surprise: 1, ewma: { value: 0.2, lower: -0.7, upper: 0.7, signal: false }, cusum: { high: 0.5, low: 0.3, limit: 4.77, signal: true } };
  const set = (day, more) => ({ number: day, from: `2026-03-0${day}T20:00:00Z`, to: `2026-03-0${day + 1}T20:00:00Z`, marks: day === 2 ? ["settings", "lot"] : [], settings_changed: day === 1 ? [{ at: "2026-03-01T23:00:00Z", settings_text: "" }] : [], observed: more, chart: more && chart });
  const points = points_of({ sets: [set(2, null), set(1, { more_percent: 4, low_percent: 1, high_percent: 7 })] });
  assert.deepEqual(points.at, [Date.parse("2026-03-02T20:00:00Z") / 1000, Date.parse("2026-03-03T20:00:00Z") / 1000]);
  assert.deepEqual(points.seen, [4, null]);
  assert.deepEqual(points.cusum_low, [-0.3, null]);
  // What changed in the middle of a set stands there, not where the next one went in.
  assert.deepEqual(points.marks, [{ at: Date.parse("2026-03-01T23:00:00Z") / 1000, words: "settings" }, { at: Date.parse("2026-03-02T20:00:00Z") / 1000, words: "settings, lot" }]);
  assert.deepEqual(points.cusum_signal, [true, false]);
});

test("percentages carry their sign, and a probability never says nought or certain", () => {
  assert.equal(more_words({ more_percent: 12.6, low_percent: 9.8, high_percent: 15.5 }), "+13\u00a0% (+10\u00a0to\u00a0+16)");
  assert.equal(more_words({ more_percent: null, low_percent: null, high_percent: null }), "nothing read");
  assert.deepEqual([signed(-3.44), signed(0.04), chance(0.0004), chance(0.9996)], ["\u22123.4\u00a0%", "0\u00a0%", "under 1\u00a0%", "over 99\u00a0%"]);
});

with_bench("sides, units, lots, worn parts", ({ at_bench }) => {
  test("a side is found by its home, and its drawings stand beside a table with the same figures", at_bench("bench/sides", async (page) => {
    await page.getByLabel("Home or area").fill("harbour");
    await page.getByRole("link", { name: "left side of h-0142" }).click();
    await page.getByRole("heading", { name: "h-0142, left" }).waitFor();
    await page.locator(".drawing .u-over").nth(2).waitFor();
    const rows = page.getByRole("region", { name: "Figures of each set" }).locator("tbody tr");
    assert.equal(await rows.count(), 15);
    await rows.first().getByText("beyond the EWMA limit; beyond the CUSUM limit").waitFor();
    await rows.nth(7).getByText("new settings on 30 Aug, while it was in").waitFor();
    await page.getByText(/^After the settings changed, against before: 6.1 % more .* One set drew by both settings and is left out.$/).waitFor();
    await page.getByText("Every set in full").click();
    await page.getByRole("cell", { name: /amplitude 4, 10.5 h a day ?from 30 .*: 12 breaths a minute, fraction 0.28, amplitude 4.6/ }).waitFor();
  }));

  test("the history comes as a CSV file", at_bench(history, async (page) => {
    const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("link", { name: "CSV" }).click()]);
    assert.equal(download.suggestedFilename(), "h-0142-left.csv");
  }));

  test("a home without sets, and sets that nobody read, each say what is missing", at_bench("bench/side?household=new-1&side=left", async (page, _, fake) => {
    await page.getByText("No set of this side has come out yet: there is nothing to compare.").waitFor();
    await page.goto(`${fake.base}/#bench/side?household=unread-1&side=left`);
    await page.getByText(/No set was read while it was in/).waitFor();
  }));

  test("a look at the settings is recorded for the side it was asked for, and undone", at_bench(`${history}&check=settings_read`, async (page, bench) => {
    await page.getByLabel("Rate").fill("12");
    await page.getByLabel("Inspiratory fraction").fill("0,28");
    await page.getByLabel("Amplitude").fill("4.6");
    await press(page, "Record this look");
    await page.getByText("Settings read off the unit: 3.0 % more against the record.").waitFor();
    assert.equal(bench.checks.length, 1);
    await press(page, "Undo");
    await page.getByText("Undone.", { exact: true }).waitFor();
    assert.equal(bench.checks.length, 0);
  }));

  test("what cannot be is said beside its field", at_bench(`${history}&check=hours_noted`, async (page) => {
    await page.getByLabel("Hours paced a day, on average").fill("31");
    await press(page, "Record this look");
    await page.locator("#hours-error").getByText("31 is outside 0 to 24").waitFor();
    await page.getByLabel("Hours paced a day, on average").fill("0");
    await press(page, "Record this look");
    await page.locator("#hours-error").getByText("is 0: give the hours paced a day, more than 0 and up to 24").waitFor();
  }));

  test("a unit is told across homes with its bench values, faults and places", at_bench("bench/units", async (page, bench) => {
    await page.getByText("draws too much: 97 %").waitFor();
    await page.getByRole("link", { name: "u-31" }).click();
    await page.getByRole("heading", { name: "Unit u-31", exact: true }).waitFor();
    await page.getByRole("link", { name: "h-0207, left" }).waitFor();
    await page.getByText("75.6 mA").waitFor();
    await page.getByText("20 Jul 2026 to 2 Aug 2026: In the workshop.").waitFor();
    await page.getByText("Record something of this unit").click();
    await page.getByRole("radio", { name: "It had a fault" }).check();
    await press(page, "Record it");
    await page.getByText("Recorded: it had a fault.").waitFor();
    assert.equal(bench.events.length, 1);
    await press(page, "Undo");
    await page.getByText("Undone.", { exact: true }).waitFor();
    assert.equal(bench.events.length, 0);
  }));

  test("what a forecast said at an earlier time is told as said then, not as what holds now", at_bench(history, async (page) => {
    const side = { phrase: "expected_to_last_tonight", sentence: "Left: expected to last tonight.", change_by: null };
    await page.route("**/forecast-then?*", (route) => route.fulfill({ json: { as_of: "2026-11-01T12:00:00Z", sides: { left: side, right: side } } }));
    await page.getByText("What the forecast was at an earlier time").click();
    await page.locator("[name=then]").fill("2026-11-01T13:00");
    await press(page, "Look");
    await page.locator(".lead", { hasText: /^It then said: Left: expected to last tonight\.$/ }).waitFor();
  }));

  test("lots say how short they are and how few sets say little", at_bench("bench/lots", async (page) => {
    await page.getByRole("row", { name: /^B7/ }).getByText("99 %", { exact: true }).waitFor();
    await page.getByText("Too few sets to say anything of this lot.").waitFor();
  }));

  test("worn parts say who is due, with a range, and a new one is recorded", at_bench("bench/wear", async (page, bench) => {
    await page.getByText("29 Nov 2026 to 12 Jan 2027").waitFor();
    // Whoever brings a new one has to know where it goes.
    await page.getByRole("row", { name: /^h-0142 Antenna, left/ }).getByText(/^Left side. In use for 175 days./).waitFor();
    await page.getByRole("row", { name: /^h-0311 Antenna, right/ }).waitFor();
    await page.getByText("Record one").click();
    await press(page, "Record it");
    await page.getByText("Say which home.").waitFor();
    await page.getByLabel("Home", { exact: true }).fill("h-0142");
    await page.getByRole("radio", { name: "The one before was worn out" }).check();
    await press(page, "Record it");
    await page.getByText("Recorded: a new antenna at h-0142.").waitFor();
    assert.equal(bench.parts.length, 1);
  }));

  test("a unit that is not there says so, with a way to try again", at_bench("bench/unit?serial=u-99", async (page) => {
    await page.getByText("There is no unit of this serial number.").waitFor();
    await page.getByRole("button", { name: "Try again" }).waitFor();
  }));
});
