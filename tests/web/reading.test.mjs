// SPDX-License-Identifier: MIT
// What a person reads on the first screen, in every state.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { on_the_evening } from "./support/journey.mjs";
import { press, side, stock } from "./support/phone.mjs";

describe("the first screen", () => {
  const { reading, base } = on_the_evening();

  const sentence = async (page, name) => (await side(page, name).locator(".sentence").allTextContents()).join(" | ");

  test("says one sentence a side, when it was computed and when anyone last recorded something", reading("due", async (page) => {
    assert.equal(await sentence(page, "left"), "Expected to last tonight.");
    assert.equal(await sentence(page, "right"), "Change before tonight.");
    const left = await side(page, "left").textContent();
    for (const part of ["Change by Fri 27 Nov, 21:30.", "Computed 20:31.", "Last recorded yesterday 21:35."]) assert.ok(left.includes(part), part);
    assert.ok((await side(page, "right").textContent()).includes("Take 2 new cells, lot 7Q, from the hall cupboard. Change the 2 right cells together."));
  }));

  test("tells the household's time, not the phone's", reading("calm", async (page) => {
    await page.getByText("Tuesday evening, 20:40").waitFor();
    await page.getByText("clock at home").waitFor();
  }));

  test("whose clock it is goes unsaid on a phone that shows the same", reading("calm", async (page) => {
    await page.getByText("Tuesday evening, 20:40").waitFor();
    assert.equal(await page.getByText("clock at home").count(), 0);
  }, { timezoneId: "Europe/Paris" }));

  test("frames only the thing to do", reading("due", async (page) => {
    assert.deepEqual(await page.locator(".act").evaluateAll((all) => all.map((one) => one.dataset.side)), ["right"]);
  }));

  // Design, 9.1: in sight wherever a forecast stands. In a form none does, and "act on it" would be read as the form.
  test("keeps the estimate's sentence in sight while the page is scrolled, and in every form what it says of the alarm", reading("unknown", async (page) => {
    const words = page.locator("footer .disclaimer");
    const in_sight = () => words.evaluate((one) => one.getBoundingClientRect().bottom <= innerHeight + 1 && one.getBoundingClientRect().top >= 0);
    for (const y of [0, 200, 5000]) {
      await page.evaluate((to) => scrollTo(0, to), y);
      assert.ok(await in_sight(), `scrolled to ${y}`);
    }
    for (const [hash, form] of Object.entries({ change: true, reading: true, warned: true, stock: true, away: true, visit: true, message: true, entries: false, plans: false, "compare?what=both&side=both": false })) {
      await page.evaluate((to) => (location.hash = to), hash);
      await page.locator("footer").getByText(form ? "The unit's own alarm comes first." : "An estimate. The unit's own alarm comes first: act on it at once.", { exact: true }).waitFor();
      assert.ok(await in_sight(), hash);
    }
  }));

  test("the date of a side that is not due is told in its form with the estimate's sentence", reading("calm", async (page) => {
    await page.getByRole("button", { name: "Cells changed", exact: true }).click();
    await page.getByRole("radio", { name: "Left" }).check();
    await page.getByRole("button", { name: "Record this" }).click();
    await page.locator(".ask").getByText("Left: change by Fri 27 Nov, 21:30.").waitFor();
    await page.locator(".ask").getByText("An estimate. The unit's own alarm comes first: act on it at once.").waitFor();
  }));

  test("has the whole of what to keep to one tap away", reading("calm", async (page) => {
    await page.getByRole("link", { name: "More" }).click();
    for (const part of ["antenna is in place", "backup ventilation", "Settings are theirs to change", "new, alkaline, same type", "fresh cells in both sides"]) {
      await page.getByText(part).first().waitFor();
    }
  }));

  test("shows the number behind a window one tap away, never smaller than 1 in 10 000", reading("calm", async (page) => {
    await side(page, "left").getByRole("button", { name: /coming nights/ }).click();
    await side(page, "left").locator("tbody td").first().waitFor();
    const cells = await side(page, "left").locator("tbody td").allTextContents();
    assert.equal(cells[0].replaceAll("\u00a0", " "), "less than 1 in 10 000");
    assert.equal(cells.length, 10);
  }));

  test("after a warning that side has its one sentence, what to take and the button: no time left, no nights, no dates", reading("warned", async (page) => {
    assert.equal(await sentence(page, "left"), "The unit warned at 03:10 today. Change the left cells now.");
    const take = "Take 2 new cells, lot 7Q, from the hall cupboard. Change the 2 left cells together.";
    assert.equal(await side(page, "left").textContent(), `LeftThe unit warned at 03:10 today. Change the left cells now.${take}Follow the maker's card; wearer awake or on the backup.Left: cells changed`);
    assert.equal(await side(page, "left").locator(".window").count(), 0);
    assert.ok(await side(page, "right").locator(".window").count());
  }));

  test("a forecast computed over 12 hours ago reads as old, with its age and no nights", reading("old", async (page) => {
    assert.equal(await sentence(page, "left"), "Old forecast.");
    assert.ok((await side(page, "left").textContent()).includes("Computed yesterday 21:40, 23 h ago."));
    assert.equal(await page.locator(".windows").count(), 0);
    assert.equal(await page.locator(".key").count(), 0);
  }));

  test("an old forecast reads alike on both sides, quotes nothing that reassures, and keeps that it asked for a change", reading("old", async (page) => {
    for (const one of ["left", "right"]) {
      const text = await side(page, one).textContent();
      assert.ok(text.startsWith(`${one === "left" ? "Left" : "Right"}Old forecast.`), text);
      for (const part of ["Too old to go by. If in doubt, put fresh cells in both sides.", `Change the 2 ${one} cells together.`]) assert.ok(text.includes(part), part);
      assert.doesNotMatch(text, /expected to last|Nov/i);
      assert.equal(await side(page, one).getAttribute("class"), "card aged");
    }
    assert.match(await side(page, "right").textContent(), /^RightOld forecast\.It already said: change the right cells by today 21:30\./);
    assert.ok(!(await side(page, "left").textContent()).includes("already said"));
  }));

  test("where an old forecast's card lies below the first screen, a line on top says that it asked for a change", reading("old-small", async (page) => {
    await page.setViewportSize({ width: 360, height: 740 });
    const lines = page.getByRole("navigation", { name: "Both sides in short" }).getByRole("link");
    await lines.nth(1).waitFor();
    assert.deepEqual(await lines.allTextContents(), ["Right: old forecast, which asked for a change.", "Left: old forecast."]);
  }));

  test("an old forecast still says how many cells of which lot to take, and has the buttons to record it, which name the side", reading("old", async (page) => {
    assert.ok((await side(page, "left").textContent()).includes("If you change them: take 2 new cells, lot 7Q, from the hall cupboard. Change the 2 left cells together."));
    await side(page, "right").getByText("Take 2 new cells, lot 7Q, from the hall cupboard. Change the 2 right cells together.", { exact: true }).waitFor();
    for (const [button, heading] of [["Right: cells changed", "Cells changed"], ["Right: note the gauge", "Note a reading"]]) {
      await press(side(page, "right"), button);
      await page.getByRole("heading", { name: heading }).waitFor();
      assert.ok(await page.getByRole("radio", { name: "Right" }).isChecked());
      await press(page, "Back");
    }
  }));

  test("a question whether cells were changed says when a change was recorded last", reading("disagreeing", async (page) => {
    await side(page, "left").getByText("The last change that was recorded: Thu 19 Nov, 21:30.").waitFor();
  }));

  test("asks whether cells were changed, and a yes opens the form with that side", reading("disagreeing", async (page) => {
    await side(page, "left").getByText("Were the left cells changed?").waitFor();
    await press(side(page, "left"), "Yes, they were changed");
    assert.ok(await page.getByRole("radio", { name: "Left" }).isChecked());
  }));

  test("says which side's gauge read what, and takes not knowing for an answer", reading("disagreeing", async (page) => {
    await side(page, "left").getByText("The unit's gauge for the left side read 96 % today 19:05.").waitFor();
    await press(side(page, "left"), "I do not know");
    await side(page, "left").getByText("Then the earlier date stands. Note the gauge again this evening.").waitFor();
    await press(side(page, "left"), "Close");
    assert.equal(await side(page, "left").getByText("Then the earlier date stands.").count(), 0);
    await press(side(page, "left"), "I do not know");
    await press(side(page, "left"), "Note a reading");
    await page.getByRole("heading", { name: "Note a reading" }).waitFor();
    assert.ok(await page.getByRole("radio", { name: "Left" }).isChecked());
  }));

  test("a no leads to another reading", reading("disagreeing", async (page) => {
    await press(side(page, "left"), "No: note another reading");
    await page.getByRole("heading", { name: "Note a reading" }).waitFor();
    assert.ok(await page.getByRole("radio", { name: "Left" }).isChecked());
  }));

  test("no form has a side chosen when it is opened from its button", reading("calm", async (page) => {
    for (const name of ["Cells changed", "Note a reading", "The unit warned"]) {
      await press(page, name);
      await page.getByRole("heading", { name }).waitFor();
      assert.equal(await page.locator("input[name=side]:checked").count(), 0, name);
      await press(page, "Back");
    }
  }));

  test("each side is named as it is marked on the unit, without a signal too", reading("calm", async (page) => {
    await press(page, "Cells changed");
    const sides = page.getByRole("group", { name: "Which side, and its mark on the unit" });
    await sides.getByRole("radio", { name: "Left A", exact: true }).waitFor();
    await sides.getByRole("radio", { name: "Right B", exact: true }).waitFor();
    await page.route("**/profiles/**", (route) => route.abort());
    await page.reload();
    await sides.getByRole("radio", { name: "Right B", exact: true }).waitFor();
  }));

  test("wrong cells have no forecast and no nights, and say what to put in", reading("wrong", async (page) => {
    assert.equal(await sentence(page, "left"), "No forecast.");
    assert.equal(await side(page, "left").locator(".window").count(), 0);
    assert.ok((await side(page, "left").textContent()).includes("Put new alkaline cells in the left side, by 21:30 today at the latest."));
  }));

  test("the three windows have their key once on the page, with the same drawings", reading("calm", async (page) => {
    assert.deepEqual((await page.locator(".key li").allTextContents()).map((text) => text.trim()), ["expected to last", "doubtful", "not expected"]);
    for (const state of ["expected", "doubtful", "not_expected"]) assert.equal(await page.locator(`.key .window.${state}`).count(), 1);
  }));

  test("steps for handling a unit are shown once a technician approved them, with source and date", reading("approved", async (page) => {
    await page.getByRole("link", { name: "More" }).click();
    await page.getByText("Open the lid of that side.").waitFor();
    await page.getByText("An invented card, 2026-03-01.").waitFor();
    assert.equal(await page.getByText("Follow the maker's card").count(), 0);
  }));

  test("until then one sentence stands, and no step", reading("calm", async (page) => {
    const asked = page.waitForResponse(/profiles\/stimulators\/invented/);
    await page.getByRole("link", { name: "More" }).click();
    await asked;
    await page.getByText("Follow the maker's card; wearer awake or on the backup.").waitFor();
    assert.equal(await page.getByText("Open the lid").count(), 0);
  }));

  test("an empty house says so and when to order", reading("nostock", async (page) => {
    assert.ok((await stock(page).textContent()).includes("No cells in the house."));
    assert.match(await stock(page).textContent(), /There are no spare cells for when the unit warns: get new alkaline cells of one type today\. Order 24 today\./);
    assert.ok(await stock(page).evaluate((card) => Boolean(card.compareDocumentPosition(document.querySelector("[data-side=left]")) & Node.DOCUMENT_POSITION_FOLLOWING)), "above the calm sides");
  }));

  test("stock stands in days, with the order, and each lot behind a tap", reading("calm", async (page) => {
    const text = await stock(page).textContent();
    for (const part of ["Enough for 41 days.", "22 cells.", "Order 24 by Thu 10 Dec."]) assert.ok(text.includes(part), part);
    await stock(page).getByText("All that is kept").click();
    await stock(page).getByText("10 cells, lot 7Q, hall cupboard, expires 2032-06").waitFor();
  }));

  test("the range chart is fetched on a tap only, and the same figures stand in a table", reading("calm", async (page) => {
    const fetched = [];
    page.on("request", (request) => fetched.push(new URL(request.url()).pathname));
    await side(page, "left").getByRole("button", { name: /How sure/ }).click();
    await page.locator(".u-over").waitFor();
    assert.ok(fetched.some((path) => /^\/draw-.*\.js$/.test(path)), "the drawing comes on the tap");
    await side(page, "left").getByText("The same as a table").click();
    assert.ok((await side(page, "left").locator("details table tbody tr").count()) > 5);
  }));

  test("a gauge of steps is asked in steps, from nothing shown to the highest", reading("steps", async (page) => {
    await press(page, "Note a reading");
    await page.getByRole("radio", { name: "5 of 5, the highest" }).waitFor();
    assert.equal(await page.getByRole("radio", { name: /of 5/ }).count(), 6);
  }));

  test("the sides are named by the marks on the unit, and none is chosen", reading("calm-marks", async (page) => {
    await press(page, "Cells changed");
    const sides = page.getByRole("group", { name: "Which side, and its mark on the unit" });
    for (const name of ["Left A", "Right B", "Both sides"]) assert.equal(await sides.getByRole("radio", { name }).isChecked(), false);
  }));

  test("that clearing the browser's data costs the sign-in and unsent records is said beforehand", reading("calm", async (page) => {
    await page.getByRole("link", { name: "More" }).click();
    await page.getByText(/^Clearing the browser's data signs this phone out, and loses records that are not sent yet/).waitFor();
  }));

  test("a household that is not there is said plainly", reading("calm", async (page) => {
    await page.goto(`${base()}/h/nobody`);
    await page.getByText("There is no household of this name.").first().waitFor();
  }));

  test("the agency's pages list the households", reading("calm", async (page) => {
    const office = { role: "administrator", label: "Office", account: "a", agency: "agency", household: null, permissions: ["list-households"] };
    await page.route("**/api/v1/session", (route) => route.fulfill({ json: office }));
    await page.goto(`${base()}/#households`);
    await page.getByRole("link", { name: /calm/ }).click();
    await stock(page).waitFor();
  }));
});
