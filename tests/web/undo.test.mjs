// SPDX-License-Identifier: MIT
// What was recorded can be taken back: in place for two minutes, from the list for ever.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { entries_of, on_the_evening } from "./support/journey.mjs";
import { choose, press, side } from "./support/phone.mjs";
import { evening } from "./support/states.mjs";

describe("what was recorded", () => {
  const { reading, base } = on_the_evening();

  /// The clock of the phone so much later; it looks at it again when the network returns.
  const later = async (page, ms) => {
    await page.clock.setFixedTime(new Date(evening.getTime() + ms));
    await page.evaluate(() => window.dispatchEvent(new Event("online")));
    await page.evaluate(() => new Promise((drawn) => setTimeout(() => requestAnimationFrame(() => requestAnimationFrame(drawn)), 100)));
  };

  test("is undone in place for two minutes, and from the list for ever", reading("calm-undo", async (page) => {
    await press(page, "Note a reading");
    await choose(page, "Left");
    await page.getByLabel("The unit shows").fill("71");
    await press(page, "Record this");
    const undo = side(page, "left").getByRole("button", { name: "Undo" });
    await undo.waitFor();
    await later(page, 119_000);
    assert.equal(await undo.count(), 1);
    await later(page, 121_000);
    assert.equal(await undo.count(), 0);
    await later(page, 500 * 86_400_000);
    await press(page, "What was recorded");
    await page.getByRole("listitem").filter({ hasText: "71 %" }).getByRole("button", { name: /^Undo/ }).click();
    await page.locator("li.undone").filter({ hasText: "71 %" }).waitFor();
    const [undone, reading_of_then] = await entries_of(base(), "calm-undo");
    assert.equal(undone.kind, "void");
    assert.equal(reading_of_then.voided_by, undone.id, "it stays in the records");
  }));
});
