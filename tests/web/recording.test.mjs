// SPDX-License-Identifier: MIT
// The journeys people come for, against the stand-in and against the real service where it was built: read, note a
// reading, change cells, undo, the unit warned, old forecast.
import assert from "node:assert/strict";
import { test } from "node:test";
import { with_each_service } from "./support/journey.mjs";
import { choose, press, side, stock } from "./support/phone.mjs";

const four = ["Expected to last tonight.", "Change before tonight.", "Change now.", "No forecast."];

with_each_service("with", ({ journey, phone, service }) => {
  const pieces = async (page) => Number(/(\d+) cells\./.exec(await stock(page).textContent())?.[1]);
  const first_lot = /Take these first/;

  async function change_left(page) {
    await press(page, "Cells changed");
    await choose(page, "Left");
    await choose(page, first_lot);
    await press(page, "Record this");
    const again = page.getByRole("button", { name: "Yes, the left cells" });
    await Promise.race([again.waitFor(), side(page, "left").getByText("Recorded:").last().waitFor()]);
    if (await again.isVisible()) await again.click();
    await side(page, "left").getByText("Recorded:").last().waitFor();
  }

  test("each side reads one of the four phrases, with its ages, and the estimate's sentence", journey(async (page) => {
    for (const one of ["left", "right"]) {
      const words = (await side(page, one).locator(".sentence").textContent()) ?? "";
      assert.ok(four.includes(words), words);
      assert.match(await side(page, one).textContent(), /Computed \d\d:\d\d\. Last recorded /);
    }
    assert.ok(await page.locator("footer").getByText("An estimate. The unit's own alarm comes first").isVisible());
  }));

  test("a reading is confirmed in words, recorded, and stands in the list", journey(async (page) => {
    await press(page, "Note a reading");
    await choose(page, "Right");
    await page.getByLabel("The unit shows").fill("71");
    await page.getByText(/Right: gauge 71 %, pacing, today \d\d:\d\d\./).waitFor();
    await press(page, "Record this");
    await side(page, "right").getByText("Recorded:").waitFor();
    assert.match(await side(page, "right").textContent(), /Last recorded today/);
    await press(page, "What was recorded");
    await page.getByRole("listitem").filter({ hasText: "71 %" }).first().waitFor();
  }));

  test("a change asks once more where the side is not due, lowers the stock, and its undo brings it back", journey(async (page) => {
    const before_change = await pieces(page);
    await change_left(page);
    await stock(page).locator("> p").getByText(`${before_change - 2} cells.`).waitFor();
    await press(side(page, "left"), "Undo");
    await stock(page).locator("> p").getByText(`${before_change} cells.`).waitFor();
    await side(page, "left").getByText("Recorded:").waitFor({ state: "detached" });  // the stock may have been heard of sooner than the answer came
    await press(page, "What was recorded");
    await page.locator("li.undone").first().waitFor();
  }));

  test("a warning leaves one sentence, and a change ends it", journey(async (page) => {
    await press(page, "The unit warned");
    await choose(page, "Left");
    await press(page, "Record the warning");
    await side(page, "left").getByText(/^The unit warned at \d\d:\d\d today\. Change the left cells now\.$/).waitFor();
    assert.equal(await side(page, "left").locator(".window").count(), 0);
    await press(page, "Cells changed");
    await choose(page, "Left");
    assert.ok(await page.getByRole("radio", { name: "The unit warned" }).isChecked(), "the reason follows the warning");
    await choose(page, first_lot);
    await press(page, "Record this");
    await side(page, "left").getByText("Expected to last tonight.").waitFor();
  }));

  test("the same change recorded twice is asked about, and one answer settles it", journey(async (page) => {
    await change_left(page);
    const after_one = await pieces(page);
    await change_left(page);
    await side(page, "left").getByText(/within 12 hours/).waitFor();
    await press(side(page, "left"), "One change");
    await side(page, "left").getByText(/within 12 hours/).waitFor({ state: "detached" });
    await stock(page).locator("> p").getByText(`${after_one} cells.`).waitFor();
  }));

  test("a record of the wrong side is exchanged in one step, and both stay in the list", journey(async (page) => {
    await press(page, "Note a reading");
    await choose(page, "Left");
    await page.getByLabel("The unit shows").fill("66");
    await press(page, "Record this");
    await side(page, "left").getByText("Recorded:").waitFor();
    await press(page, "What was recorded");
    await page.getByRole("listitem").filter({ hasText: "66 %" }).first().getByRole("button", { name: /It was the right side/ }).click();
    await page.locator("li.undone").filter({ hasText: "66 %" }).waitFor();
    await page.locator("li:not(.undone)").filter({ hasText: /Right.*66 %/ }).first().waitFor();
  }));

  test("a time to come is asked about, and recorded once it is meant so", journey(async (page) => {
    await press(page, "Note a reading");
    await choose(page, "Right");
    await page.getByLabel("The unit shows").fill("50");
    await choose(page, "Another time");
    await page.getByLabel(/by the clock at home/).fill("2090-01-01T12:00");
    await press(page, "Record this");
    await page.getByText("That time has not come yet.").waitFor();
    await press(page, "Yes, record it");
    await side(page, "right").getByText(/^Recorded for Sun 1 Jan 2090, 12:00: /).waitFor();
  }));

  test("cells used beside changes lower the stock, are in the list by that word, and their undo brings them back", journey(async (page) => {
    const before_use = await pieces(page);
    await press(page, "Count stock");
    await choose(page, "Used");
    await choose(page, "Cells");
    await page.getByText("Cells that went into a side are counted with their change").waitFor();
    await choose(page, "Lot 7Q");
    const cupboard = page.getByRole("radio", { name: "Hall cupboard" });  // where the stand-in keeps that lot
    await ((await cupboard.count()) ? cupboard.check() : choose(page, "Home"));
    await page.getByLabel("How many single pieces").fill("0");
    await press(page, "Record this");
    await page.getByText("1 or more").waitFor();
    await page.getByLabel("How many single pieces").fill("1");
    await press(page, "Record this");
    await stock(page).locator("> p").getByText(`${before_use - 1} cells.`).waitFor();
    await stock(page).getByText("Recorded:").waitFor();
    await press(page, "What was recorded");
    await page.getByRole("listitem").filter({ hasText: "Used: 1 cells, lot 7Q" }).waitFor();
    await press(page, "Back");
    await press(stock(page), "Undo");
    await stock(page).locator("> p").getByText(`${before_use} cells.`).waitFor();
  }));

  test("what the service refuses is shown at its field, and nothing typed is lost", journey(async (page) => {
    await press(page, "Count stock");
    await choose(page, "Counted");
    await choose(page, "Cells");
    await choose(page, "Another lot number");
    await page.getByLabel("Lot number on the pack").fill("9Z");
    await page.getByLabel(/Expires/).fill("2033-13");
    await choose(page, "Home");
    await page.getByLabel("How many single pieces").fill("4");
    await press(page, "Record this");
    await page.getByText("Write the year and the month").waitFor();
    assert.equal(await page.getByLabel("Lot number on the pack").inputValue(), "9Z");
    await page.getByLabel(/Expires/).fill("2033-12");
    await press(page, "Record this");
    await stock(page).getByText("Recorded:").waitFor();
  }));

  test("a stay is answered with what to pack", journey(async (page) => {
    const day = (ahead) => new Date(Date.now() + ahead * 86_400_000).toISOString().slice(0, 10);
    await press(page, "Going away");
    await page.getByLabel("Leaving on").fill(day(20));
    await page.getByLabel("Back on").fill(day(27));
    await press(page, "Record, and say what to pack");
    await page.locator(".packing").getByText(/\d+ cells/).waitFor();
    await page.locator(".packing").getByText(/of 1 000 such stays/).waitFor();
  }));

  test("a page left open without a signal turns its forecast old after 12 hours", () =>
    phone(async (page) => {
      await page.clock.install();
      const household = await service().household();
      await service().let_in(page, household);
      await page.goto(`${service().base}/h/${household}`);
      await stock(page).locator(".sentence").waitFor();
      await page.route("**/api/**", (route) => route.abort());
      await page.clock.fastForward("11:30:00");
      await page.getByText("This phone has no signal. The unit does not need it.", { exact: true }).waitFor();
      assert.equal(await page.getByText("Old forecast.").count(), 0);
      await page.clock.fastForward("00:45:00");
      await page.getByText("Old forecast.").nth(1).waitFor();
    }));
});
