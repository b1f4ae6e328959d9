// SPDX-License-Identifier: MIT
// What a person reads on the first screen, in every state.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { start_fake } from "./fake/server.mjs";
import { phones, press, side, stock } from "./support/phone.mjs";
import { evening } from "./support/states.mjs";

describe("the first screen", () => {
  const phone = phones();
  let fake;
  before(async () => {
    fake = await start_fake(() => evening);
  });
  after(() => fake.stop());

  const reading = (household, work, options) => () =>
    phone(async (page) => {
      await page.clock.setFixedTime(evening);
      await page.goto(`${fake.base}/h/${household}`);
      await stock(page).waitFor();
      await work(page);
    }, options);

  const sentence = async (page, name) => (await side(page, name).locator(".sentence").allTextContents()).join(" | ");

  test("says one sentence a side, when it was computed and when anyone last recorded something", reading("due", async (page) => {
    assert.equal(await sentence(page, "left"), "Expected to last tonight.");
    assert.equal(await sentence(page, "right"), "Change before tonight.");
    const left = await side(page, "left").textContent();
    for (const part of ["Change by Fri 27 Nov, 21:30.", "Computed 20:31.", "Last recorded yesterday 21:35."]) assert.ok(left.includes(part), part);
    assert.ok((await side(page, "right").textContent()).includes("Both cells of this side: lot 7Q, hall cupboard."));
  }));

  test("tells the household's time, not the phone's", reading("calm", async (page) => {
    await page.getByText("Tuesday evening, 20:40").waitFor();
    await page.getByText("home time").waitFor();
  }));

  test("frames only the thing to do", reading("due", async (page) => {
    assert.deepEqual(await page.locator(".act").evaluateAll((all) => all.map((one) => one.dataset.side)), ["right"]);
  }));

  test("keeps the estimate's sentence in sight while the page is scrolled, and on every form", reading("unknown", async (page) => {
    const words = page.locator("footer").getByText("An estimate. The unit's own alarm comes first: act on it at once.");
    const in_sight = () => words.evaluate((one) => one.getBoundingClientRect().bottom <= innerHeight + 1 && one.getBoundingClientRect().top >= 0);
    for (const y of [0, 200, 5000]) {
      await page.evaluate((to) => scrollTo(0, to), y);
      assert.ok(await in_sight(), `scrolled to ${y}`);
    }
    for (const hash of ["change", "reading", "warned", "stock", "away", "entries"]) {
      await page.evaluate((to) => (location.hash = to), hash);
      await page.getByRole("heading", { level: 1 }).waitFor();
      assert.ok(await in_sight(), hash);
    }
  }));

  test("has the whole of what to keep to one tap away", reading("calm", async (page) => {
    await page.getByRole("link", { name: "More" }).click();
    for (const part of ["antenna is in place", "backup ventilation", "Settings are theirs to change", "new, alkaline, same type", "fresh cells in both sides"]) {
      assert.ok(await page.getByText(part).count(), part);
    }
  }));

  test("shows the number behind a window one tap away, never smaller than 1 in 10 000", reading("calm", async (page) => {
    await side(page, "left").getByRole("button", { name: /coming nights/ }).click();
    const cells = await side(page, "left").locator("tbody td").allTextContents();
    assert.equal(cells[0].replaceAll("\u00a0", " "), "less than 1 in 10 000");
    assert.equal(cells.length, 10);
  }));

  test("after a warning that side has its one sentence only: no time left, no nights, no dates", reading("warned", async (page) => {
    assert.equal(await side(page, "left").textContent(), "LeftThe unit warned at 03:10. Change the left cells now.");
    assert.equal(await side(page, "left").locator(".window").count(), 0);
    assert.ok(await side(page, "right").locator(".window").count());
  }));

  test("a forecast computed over 12 hours ago reads as old, with its age and no nights", reading("old", async (page) => {
    assert.equal(await sentence(page, "left"), "Old forecast.");
    assert.ok((await side(page, "left").textContent()).includes("Computed yesterday 21:40, 23 h ago."));
    assert.equal(await page.locator(".windows").count(), 0);
  }));

  test("asks whether cells were changed, and a yes opens the form with that side", reading("disagreeing", async (page) => {
    await side(page, "left").getByText("Were the left cells changed?").waitFor();
    await press(side(page, "left"), "Yes, they were changed");
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

  test("wrong cells have no forecast and no nights, and say what to put in", reading("wrong", async (page) => {
    assert.equal(await sentence(page, "left"), "No forecast.");
    assert.equal(await side(page, "left").locator(".window").count(), 0);
    assert.ok((await side(page, "left").textContent()).includes("new alkaline cells"));
  }));

  test("an empty house says so and when to order", reading("nostock", async (page) => {
    assert.ok((await stock(page).textContent()).includes("No cells in the house."));
    assert.ok((await stock(page).textContent()).includes("Order 24 today."));
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
    assert.ok(fetched.some((path) => /^\/part-.*\.js$/.test(path)), "the drawing comes on the tap");
    await side(page, "left").getByText("The same as a table").click();
    assert.ok((await side(page, "left").locator("details table tbody tr").count()) > 5);
  }));

  test("a gauge of steps is asked in steps, from nothing shown to the highest", reading("steps", async (page) => {
    await press(page, "Note a reading");
    await page.getByRole("radio", { name: "5 of 5, the highest" }).waitFor();
    assert.equal(await page.getByRole("radio", { name: /of 5/ }).count(), 6);
  }));

  test("a household that is not there is said plainly", reading("calm", async (page) => {
    await page.goto(`${fake.base}/h/nobody`);
    await page.getByText("There is no household of this name.").first().waitFor();
  }));

  test("the start page lists the households", reading("calm", async (page) => {
    await page.goto(fake.base);
    await page.getByRole("link", { name: /calm/ }).click();
    await stock(page).waitFor();
  }));
});
