// SPDX-License-Identifier: MIT
// Plans on the phone: read, recorded, ended, taken back; the questions that follow; two forecasts side by side.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { entries_of, on_the_evening, with_each_service } from "./support/journey.mjs";
import { choose, press, side, stock } from "./support/phone.mjs";

const plans = (page) => page.locator(".plans > li");
const open_plans = (page) => page.getByRole("button", { name: /^What is planned/ }).click();

async function open_form(page, name) {
  await open_plans(page);
  await page.getByRole("button", { name }).click();
}

async function record_infection(page) {
  await open_form(page, /Paced more for now/);
  await choose(page, "Both");
  await choose(page, "All day");
  await press(page, "Record this");
  await plans(page).getByText(/^Paced all day since/).waitFor();
}

async function type_left_settings(page) {
  await choose(page, "Left");
  await press(page, "Fill in what is recorded now for the left side");
}

with_each_service("plans with", ({ journey, service }) => {
  const kinds = async (household) => (await entries_of(service().base, household)).map((entry) => entry.kind);

  test("an infection is recorded, stands among the plans, and is taken back", journey(async (page) => {
    await record_infection(page);
    await press(page, /^It was a mistake/);
    await page.getByText("Nothing is planned.").waitFor();
  }));

  test("its undo stands where it was recorded", journey(async (page) => {
    await record_infection(page);
    await press(page.getByRole("region", { name: "Just recorded" }), "Undo");
    await page.getByText("Nothing is planned.").waitFor();
  }));

  test("that it is over is recorded with its time", journey(async (page, household) => {
    await open_form(page, /Paced more for now/);
    await choose(page, "Left");
    await choose(page, "So many hours a day");
    await page.getByLabel("Hours a day", { exact: true }).fill("20");
    await choose(page, "Another time");
    await page.getByLabel(/by the clock at home/).fill(new Date(Date.now() - 86_400_000).toISOString().slice(0, 16));
    await press(page, "Record this");
    await plans(page).getByText(/^Left: paced 20 hours a day since/).waitFor();
    await press(page, /^It is over/);
    await page.getByText(/^It is over since today/).waitFor();
    await press(page, "Record this");
    await page.getByText("Nothing is planned.").waitFor();
    assert.ok((await kinds(household)).includes("end"));
  }));

  test("a visit is recorded for the sides that were chosen", journey(async (page) => {
    await open_form(page, /A visit/);
    await page.getByLabel(/Day and time of the visit/).fill(new Date(Date.now() + 3 * 86_400_000).toISOString().slice(0, 16));
    await press(page, "Record this");
    await page.getByText("Choose the side.").waitFor();
    await choose(page, "Both");
    await press(page, "Record this");
    await plans(page).getByText(/^A visit on/).waitFor();
  }));

  test("what the service refuses of spans that grow is shown at its field, and nothing typed is lost", journey(async (page) => {
    await open_form(page, /Pacing that grows/);
    await type_left_settings(page);
    await page.getByLabel("Longer each week by").fill("60");
    await page.getByLabel("Until a day has").fill("9");
    await press(page, "Record this");
    await page.locator("#field-up_to .error").getByText(/10 hours/).waitFor();
    assert.equal(await page.getByText("Will be recorded").count(), 0, "what was refused is not said to be recorded");
    assert.equal(await page.getByLabel("Longer each week by").inputValue(), "60");
    await page.getByLabel("Until a day has").fill("14");
    await press(page, "Record this");
    await plans(page).getByText(/^Left: pacing grows by 60 minutes a week until 14 hours/).waitFor();
  }));

  // The unit's range: data/stimulators/percent-power.json. Section 9.7: settings are recorded as the clinician gave them.
  test("settings beyond what the unit can be set to are asked about once more, and recorded as given", journey(async (page, household) => {
    await open_form(page, /^New settings/);
    await type_left_settings(page);
    await page.getByLabel("Amplitude, as the unit shows it").fill("46");
    await press(page, "Record this");
    await page.getByRole("alert").getByText("Amplitude: 46; the profile has 0.5 to 10.").waitFor();
    const amplitudes = async () => (await entries_of(service().base, household)).filter(({ kind, body }) => kind === "settings" && body.side === "left").map(({ body }) => body.amplitude);
    assert.ok(!(await amplitudes()).includes(46), "not before it is answered");
    await press(page, "No, mend them");
    await press(page, "Record this");
    await press(page, "Yes, as the clinician gave them");
    await page.getByRole("heading", { name: "What is planned" }).waitFor();
    assert.ok((await amplitudes()).includes(46));
  }));

  test("a stay in hospital to come is confirmed with its day, and until then the forecast stands", journey(async (page) => {
    await open_form(page, /In hospital/);
    await choose(page, "Another time");
    await page.getByLabel(/by the clock at home/).fill(new Date(Date.now() + 9 * 86_400_000).toISOString().slice(0, 16));
    await press(page, "Record this");
    await page.getByText(/^Recorded for \w{3} \d+ \w{3}, \d\d:\d\d: In hospital/).first().waitFor();
    assert.equal(await page.getByRole("button", { name: /^Take it back/ }).count(), 1, "what has not begun is taken back");
    await press(page, "Back");
    await side(page, "left").getByText("Expected to last tonight.").waitFor();
    assert.equal(await page.locator("[data-hospital]").count(), 0);
  }));

  test("in hospital nothing is forecast; back home what was not answered is asked", journey(async (page) => {
    await open_form(page, /In hospital/);
    await press(page, "Record this");
    await plans(page).getByText(/^In hospital since/).waitFor();
    await press(page, "Back");
    await page.locator("[data-hospital]").waitFor();
    assert.equal(await page.locator("[data-side] .sentence").allTextContents().then((all) => all.join(" ")), "No forecast. No forecast.");
    assert.equal(await page.locator(".window").count(), 0);
    await press(page, "Back home");
    await press(page, "Record this");
    await side(page, "left").getByText("In doubt: fresh cells in both sides.").waitFor();
    await side(page, "left").getByRole("button", { name: "Record the settings" }).click();
    assert.ok(await page.getByRole("radio", { name: "Left" }).isChecked(), "the question had named the side");
  }));

  test("two forecasts stand side by side in the same words, and nothing is stored", journey(async (page, household) => {
    const before_asking = await kinds(household);
    await open_form(page, /With other settings/);
    await page.getByText("Settings are the clinician's to change; this only works out what follows.").waitFor();
    await choose(page, "Left");
    await choose(page, "Other settings");
    assert.equal(await page.getByLabel("Amplitude, as the unit shows it").inputValue(), "", "no value is proposed");
    await press(page, "Work it out");
    await page.locator("#field-left_rate .error").waitFor();
    await press(page, "Fill in what is recorded now for the left side");
    await page.getByLabel("Amplitude, as the unit shows it").fill("5");
    await press(page, "Work it out");
    await page.getByRole("heading", { name: "What follows" }).waitFor();
    assert.deepEqual(await page.locator(".one h4").allTextContents(), ["As recorded", "With what you typed in"]);
    const styles = await page.locator(".one").evaluateAll((all) => all.map((one) => [one.className, getComputedStyle(one).color, getComputedStyle(one).backgroundColor].join()));
    assert.equal(styles[0], styles[1], "neither is marked");
    for (const one of await page.locator(".one").allTextContents()) assert.match(one, /Fresh cells: \d+ to \d+ (days|hours)\./);
    assert.doesNotMatch(await page.locator(".besides").textContent(), /better|best|worse|longer than|shorter than|recommend|suggest/i);
    assert.deepEqual(await kinds(household), before_asking);
  }));
});

describe("what follows from plans", () => {
  const { reading, base } = on_the_evening();
  const entries = (household) => entries_of(base(), household);

  test("after three days each side is asked whether it is still paced more; yes is one tap", reading("fever-yes", async (page) => {
    for (const one of ["left", "right"]) await side(page, one).getByText(`Is the ${one} side still paced all day?`).waitFor();
    await press(side(page, "left"), "Yes, still");
    await page.getByText(/still paced all day\?/).first().waitFor({ state: "detached" });
    assert.deepEqual((await entries("fever-yes"))[0].body, { entry: 1, answer: "still" });
  }));

  test("no leads to when it was over, and back to the first screen", reading("fever-no", async (page) => {
    await press(side(page, "left"), "No, it is over");
    await page.getByText("Paced all day since Fri 20 Nov.").waitFor();
    await press(page, "Record this");
    await stock(page).waitFor();
    assert.equal(await page.getByText(/still paced all day\?/).count(), 0);
    assert.equal((await entries("fever-no"))[0].body.entry, 1);
  }));

  test("an end before the beginning is refused at its field", reading("fever-early", async (page) => {
    await press(side(page, "left"), "No, it is over");
    await choose(page, "Another time");
    await page.getByLabel(/by the clock at home/).fill("2026-11-01T12:00");
    await press(page, "Record this");
    await page.locator("#field-when .error").getByText("is not after the beginning: give a later time, or take the entry back").waitFor();
  }));

  test("what is planned is counted on the first screen, each plan with its own undo, a stay with what to pack", reading("planned", async (page) => {
    await press(page, "What is planned (4)");
    await plans(page).first().waitFor();
    assert.deepEqual(await plans(page).locator("> p").allTextContents(), [
      "Paced all day since Fri 20 Nov.", "A visit on Thu 26 Nov, 09:00 wants fresh cells.", "Unit u-2 from Thu 3 Dec.", "Away from Thu 10 Dec to Tue 15 Dec.",
    ]);
    assert.equal(await page.getByRole("button", { name: /^It is over/ }).count(), 1, "what has not begun cannot be over");
    await page.getByText("What to pack").click();
    await page.locator(".packing").getByText("12 cells").waitFor();
    await page.locator(".packing").getByText("Expected to be enough in at least 999 of 1 000 such stays, and one set to spare.").waitFor();
    await press(page, /^Take it back.*A visit/);
    await plans(page).getByText(/^A visit/).waitFor({ state: "detached" });
    assert.equal(await plans(page).count(), 3);
  }));

  test("a plan on its way hides the forecasts that it will change", reading("calm-way", async (page) => {
    await page.route("**/paced-more", (route) => route.abort());
    await open_form(page, /Paced more for now/);
    await choose(page, "Both");
    await choose(page, "All day");
    await press(page, "Record this");
    await page.getByRole("heading", { name: "What is planned" }).waitFor();
    await press(page, "Back");
    for (const one of ["left", "right"]) await side(page, one).getByText("Both sides: paced all day, not sent yet.").waitFor();
    assert.equal(await page.locator(".window").count(), 0);
  }));

  test("a look at the gauge that would tell most is asked for quietly, and its button has the side", reading("asking", async (page) => {
    await side(page, "left").getByText("A look at the unit's gauge for the left side would tell most now. Note it if you can.").waitFor();
    assert.equal(await page.locator(".act").count(), 0);
    await press(side(page, "left"), "Note a reading");
    assert.ok(await page.getByRole("radio", { name: "Left" }).isChecked());
  }));

  test("back from hospital the unit is asked for, and the spare can be named", reading("back", async (page) => {
    await side(page, "left").getByRole("button", { name: "Record the unit" }).click();
    await page.getByText("In use as recorded: unit u-1.").waitFor();
    await choose(page, /Unit u-2/);
    await press(page, "Record this");
    await stock(page).waitFor();
    await page.getByText(/Which unit is in use/).first().waitFor({ state: "detached" });
  }));

  test("other settings, said when coming home, lead on to their form", reading("hospital", async (page) => {
    await press(page, "Back home");
    await page.locator("#field-settings").getByRole("radio", { name: /Changed/ }).check();
    await press(page, "Record this");
    await page.getByRole("heading", { name: "New settings" }).waitFor();
  }));

  test("while away times are told and asked by the clocks of that place", reading("travelling", async (page) => {
    await page.getByText("Tuesday afternoon, 14:40").waitFor();
    await page.getByText("clock in New York").waitFor();
    await press(page, "Note a reading");
    await choose(page, "Another time");
    assert.equal(await page.getByLabel("Day and time, by the clock in New York").inputValue(), "2026-11-24T14:40");
  }, { timezoneId: "Europe/Oslo" }));

  test("another cell that is not known is refused at its field, and without a signal it is said", reading("calm-cell", async (page) => {
    await open_form(page, /With other settings/);
    await choose(page, "Left");
    await choose(page, /Another cell/);
    await press(page, "Work it out");
    await page.getByText("Choose the type of the cells.").waitFor();
    await page.getByLabel("Type of the cells").selectOption("lr6-family");
    await page.route("**/what-if", (route) => route.abort());
    await press(page, "Work it out");
    await page.getByText("No signal: this cannot be worked out now.").waitFor();
    await page.unroute("**/what-if");
    await page.route("**/what-if", (route) => route.continue({ postData: JSON.stringify({ cells: { left: "unknown-cell" } }) }));
    await press(page, "Work it out");
    await page.locator("#field-cell .error").getByText("is no cell profile").waitFor();
  }));

  test("after a warning side by side shows that side's one sentence alone", reading("warned", async (page) => {
    await open_form(page, /With other settings/);
    await page.getByRole("group", { name: "Which side" }).getByRole("radio", { name: "Both" }).check();
    await choose(page, /Another cell/);
    await page.getByLabel("Type of the cells").selectOption("lr6-family");
    await press(page, "Work it out");
    const told = page.getByRole("region", { name: "Left, as recorded" });
    assert.equal(await told.textContent(), "As recordedThe unit warned at 03:10 today. Change the left cells now.");
  }));
});
