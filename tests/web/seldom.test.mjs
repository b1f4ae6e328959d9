// SPDX-License-Identifier: MIT
// Seldom days on the phone: no mains, no deliveries, a page for the hospital, another unit, settings asked about twice, sides
// that were mixed up, the next weeks.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { entries_of, on_the_evening } from "./support/journey.mjs";
import { choose, note_left_without_signal, press, side, stock } from "./support/phone.mjs";

describe("on seldom days", () => {
  const { reading, base } = on_the_evening();
  const open = async (page, name) => {
    await press(page, /^What is planned/);
    await page.getByRole("button", { name }).click();
  };
  const stored = async (household) => (await entries_of(base(), household)).map(({ kind, body }) => [kind, body]);

  test("no mains is more pacing with its reason", reading("calm-mains", async (page) => {
    await open(page, /^No mains/);
    await page.getByText(/^Without mains the backup ventilation has no power/).waitFor();
    await choose(page, "Both");
    await choose(page, "All day");
    await press(page, "Record this");
    await page.locator(".plans > li").getByText(/^Paced all day since/).waitFor();
    assert.equal((await stored("calm-mains"))[0][1].why, "no mains");
  }));

  test("no deliveries says how far the stock reaches, and records nothing", reading("calm-deliveries", async (page) => {
    await open(page, /^No deliveries/);
    await page.getByLabel("No delivery until").fill("2026-12-10");
    await page.getByText(/^Cells: expected to last, in at least 19 of 20 such times/).waitFor();
    await page.getByLabel("No delivery until").fill("2027-02-22");  // in 90 days, of which the service's "Order 24" knows nothing
    const cells = page.getByRole("listitem").filter({ hasText: /^Cells:/ });
    await cells.getByText("Cells: not expected to last, 41 to 56 days. Tell your agency now; ask for enough until Mon 22 Feb.").waitFor();
    assert.equal(await page.getByText(/Order \d+/).count(), 0);
    await page.getByLabel("No delivery until").fill("2026-11-20");
    await page.getByText("Choose a day after today, within a year.").waitFor();
    assert.deepEqual(await stored("calm-deliveries"), []);
  }));

  test("the page for the hospital has what is recorded, and no forecast", reading("calm-hospital", async (page) => {
    await open(page, /^In hospital/);
    await page.getByRole("link", { name: "A page for the hospital, as recorded" }).click();
    const printed = page.getByRole("region", { name: "The page" });
    await printed.getByText(/12 breaths a minute, breathing in for 0\.28 of the breath, amplitude 4\./).first().waitFor();
    const words = await printed.textContent();
    assert.doesNotMatch(words, /expected|change by|tonight/i);
    assert.match(words, /The unit's own alarm comes first\./);
  }));

  test("the page for the hospital is one printed page, however much was recorded", reading("calm-paper", async (page) => {
    const seen = Array.from({ length: 50 }, (_, index) => ({ id: 50 - index, kind: "reading", at: new Date(Date.parse("2026-11-24T12:00:00Z") - index * 43_200_000).toISOString(), body: { side: "left" }, text: "Left: gauge 62.5 %, pacing, seen on the unit that was in use then.", voided_by: null }));
    await page.route("**/entries?*", (route) => route.fulfill({ json: { entries: seen, next: null } }));
    await page.evaluate(() => (location.hash = "handover"));
    await page.getByRole("region", { name: "The page" }).getByRole("listitem").nth(11).waitFor();
    for (const format of ["A4", "Letter"]) {
      const pdf = (await page.pdf({ format })).toString("latin1");
      assert.equal(pdf.match(/\/Type \/Page\b/g).length, 1, format);
    }
  }));

  test("settings beyond the unit's profile are asked about once more, old beside new", reading("calm-settings", async (page) => {
    await open(page, /^New settings/);
    await choose(page, "Left");
    await press(page, "Fill in what is recorded now for the left side");
    await page.getByLabel("Amplitude, as the unit shows it").fill("46");
    await page.getByRole("row", { name: "Amplitude 4 46" }).waitFor();
    await press(page, "Record this");
    await page.getByText("Amplitude: 46; the profile has 0.5 to 10.").waitFor();
    assert.deepEqual(await stored("calm-settings"), []);
    await press(page, "Yes, as the clinician gave them");
    await page.getByRole("heading", { name: "What is planned" }).waitFor();
    assert.equal((await stored("calm-settings"))[0][1].amplitude, 46);
  }));

  test("sides that were mixed up are exchanged in one step, history kept", reading("calm-mixed", async (page) => {
    for (const [side, percent] of [["Left", "31"], ["Right", "78"]]) {
      await press(page.getByLabel("What to record"), "Note a reading");
      await choose(page, side);
      await page.getByLabel("The unit shows").fill(percent);
      await press(page, "Record this");
      await page.locator(`[data-side=${side.toLowerCase()}]`).getByText(/^Recorded:/).waitFor();
    }
    await press(page, "What was recorded");
    await page.getByRole("button", { name: /^I mixed up the sides/ }).first().click();
    await page.waitForFunction(() => document.querySelectorAll("li.undone").length === 2);
    const standing = (await entries_of(base(), "calm-mixed")).filter((entry) => entry.kind === "reading" && !entry.voided_by);
    assert.deepEqual(standing.map(({ body }) => [body.side, body.percent]).sort(), [["left", 78], ["right", 31]]);
  }));

  test("the next weeks stand before what is planned", reading("due-weeks", async (page) => {
    await press(page, /^What is planned/);
    const weeks = page.getByRole("region", { name: "The next weeks" });
    await weeks.getByText(/^Left: change by/).waitFor();
    // The right side is due tonight: its evening stands alone, and what comes later is told as likely.
    assert.deepEqual(await weeks.getByRole("listitem").filter({ hasText: /^(Left|Right)/ }).allTextContents(), [
      "Right: change by today 21:30.", "Left: change by Fri 27 Nov, 21:30.",
      "Right: likely Fri 4 Dec (± 2 days).", "Left: likely Tue 8 Dec (± 2 days).", "Right: likely Mon 14 Dec (± 3 days).",
      "Left: likely Sat 19 Dec (± 3 days).", "Right: likely Thu 24 Dec (± 4 days).", "Left: likely Wed 30 Dec (± 4 days).",
    ]);
    assert.equal(await weeks.getByText(/both on one evening/i).count(), 0);
    await weeks.getByText(/Nothing is to be done for it yet\. The unit's own alarm comes first\.$/).waitFor();
  }));

  test("evenings for both sides are told, the first to act by and later ones as likely", reading("calm-evenings", async (page) => {
    await press(page, "Cells changed");
    await choose(page, "Left");
    await choose(page, /Take these first/);
    await press(page, "Record this");
    await press(page, "Yes, the left cells");
    await page.locator("[data-side=left]").getByText("Recorded:").waitFor();
    await press(page, /^What is planned/);
    const weeks = page.getByRole("region", { name: "The next weeks" });
    // Changed now, the left side is due in 9 days and then in 20, 31 and 41, the right one in 3, 14, 25 and 36.
    await weeks.getByText("Both on one evening: Fri 27 Nov, 21:30. Neither is then changed later than its own date.").waitFor();
    await weeks.getByText("Later, likely both on one evening: Tue 8 Dec; Sat 19 Dec; Tue 29 Dec. Neither is then changed later than its own date.").waitFor();
  }));

  test("the next weeks have no date of a side while something noted of it is not sent yet", reading("due-unsent", async (page) => {
    await note_left_without_signal(page);
    await press(page, /^What is planned/);
    const weeks = page.getByRole("region", { name: "The next weeks" });
    await weeks.getByText("Left: no date until what was noted is sent.").waitFor();
    await weeks.getByText(/^Right: change by/).waitFor();
    assert.equal(await weeks.getByText(/^Left: change by|^Both on one evening/).count(), 0);
  }));

  const unread = "What was recorded last is not here: no signal, or no answer.";

  test("the page for the hospital never tells what it could not ask for as nothing, and asks again", reading("calm-unread", async (page) => {
    let release;
    const held = new Promise((resolve) => (release = resolve));
    await page.route("**/entries?*", async (route) => {
      await held;
      await route.abort();
    });
    await page.evaluate(() => (location.hash = "handover"));
    const printed = page.getByRole("region", { name: "The page" });
    await printed.getByText("Asking what was recorded last.").waitFor();
    assert.equal(await printed.getByText("Nothing is recorded.").count(), 0);
    release();
    await printed.getByText(unread).waitFor();
    assert.equal(await printed.getByText("Nothing is recorded.").count(), 0);
    await page.unroute("**/entries?*");
    await page.reload();
    await printed.getByText("Nothing is recorded.").waitFor();
    assert.equal(await printed.getByText(unread).count(), 0);
  }));

  test("the page for the hospital says when what stands on it was read, and the cells by their designation", reading("calm-read", async (page) => {
    const of_household = /\/households\/calm-read$/;
    await page.route(of_household, async (route) => {
      const json = await (await route.fetch()).json();
      await route.fulfill({ json: { ...json, cells: { left: { profile: "lr6-family", lot: "7Q", since: "2026-11-20T20:30:00Z" }, right: { profile: "a-brand", lot: "8B" } } } });
    });
    await page.reload();
    await stock(page).waitFor();
    await page.route("**/api/**", (route) => route.abort());
    await page.clock.setFixedTime(new Date("2026-11-25T07:00:00Z"));
    await page.evaluate(() => window.dispatchEvent(new Event("online")));
    await page.getByText("This phone has no signal. The unit does not need it.", { exact: true }).waitFor();
    await page.evaluate(() => (location.hash = "handover"));
    const printed = page.getByRole("region", { name: "The page" });
    await printed.getByText(/^Printed on Wed 25 Nov, 08:00, 2026\./).waitFor();
    await printed.getByText("Settings, unit and cells: as recorded, read Tue 24 Nov, 20:40, 2026.").waitFor();
    await printed.getByText("Cells: LR6, lot 7Q, in since Fri 20 Nov, 21:30.").waitFor();
    await printed.getByText("Cells: a-brand, lot 8B.").waitFor();
    await printed.getByText(unread).waitFor();
  }));

  test("the page for the hospital lists what is not sent yet", reading("calm-unsent", async (page) => {
    await note_left_without_signal(page);
    await page.evaluate(() => (location.hash = "handover"));
    await page.getByRole("region", { name: "The page" }).getByText(/^Not sent yet: Left: gauge 43 %/).waitFor();
  }));

  // Section 9.6: the steps of the unit's profile once a technician approved them; until then one sentence and nothing else.
  const makers_card = "Follow the maker's card; wearer awake or on the backup.";
  for (const [asked, name] of [["due", "right"], ["warned", "left"]]) {
    test(`in a card that asks for a change the unit's approved steps stand, with source and date (${asked})`, reading(`approved${asked}`, async (page) => {
      const card = side(page, name);
      await card.getByText("An invented card, 2026-03-01.").waitFor();
      assert.deepEqual(await card.locator(".handling li").allTextContents(), ["Open the lid of that side.", "Take out both cells."]);
      assert.equal(await card.getByText(makers_card).count(), 0);
      assert.equal(await side(page, name === "left" ? "right" : "left").locator(".handling").count(), 0, "nothing is asked for there");
    }));

    test(`until they are approved one sentence stands in it, and no step (${asked})`, reading(asked, async (page) => {
      const told = page.waitForResponse(/profiles\/stimulators\/invented/);
      await page.reload();
      await told;
      await side(page, name).getByText(makers_card, { exact: true }).waitFor();
      assert.equal(await page.locator("[data-side] .handling").count(), 1);
      assert.equal(await page.locator("[data-side] .handling li").count(), 0);
    }));
  }

  test("where nothing is asked for, no steps of the unit stand in the cards", reading("approved", async (page) => {
    assert.equal(await page.locator("[data-side] .handling").count(), 0, "nothing is asked for here");
  }));
});
