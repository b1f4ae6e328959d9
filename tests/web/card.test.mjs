// SPDX-License-Identifier: MIT
// The card for the fridge: one page, until when it holds, and none where something is to be done first.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { on_the_evening } from "./support/journey.mjs";
import { note_left_without_signal } from "./support/phone.mjs";
import { picture_of } from "./support/square_code.mjs";

describe("the card for the fridge", () => {
  const { reading, base } = on_the_evening();
  const open = (page) => page.evaluate(() => (location.hash = "card"));

  test("is one printed page with its dates, none of them said as today, and with the page's address", reading("calm", async (page) => {
    await open(page);
    const card = page.locator(".fridge");
    await card.getByText("Printed on Tue 24 Nov, 20:40, 2026. Throw this card away after Fri 27 Nov, 21:30, or after any change.").waitFor();
    for (const one of ["left", "right"]) await card.getByText(`Take 2 new cells of one type and lot from the hall cupboard. Change the 2 ${one} cells together.`).waitFor();
    assert.doesNotMatch(await card.textContent(), /\btonight\b|\btoday\b|\btomorrow\b|\byesterday\b/);
    assert.equal(await picture_of(card.locator(".qr"), page.context()), `${base()}/h/calm`);
    for (const format of ["A4", "Letter"]) {
      const pdf = (await page.pdf({ format })).toString("latin1");
      assert.equal(pdf.match(/\/Type \/Page\b/g).length, 1, format);
    }
    await page.emulateMedia({ media: "print" });
    assert.ok(await card.isVisible());
    for (const other of [page.locator("footer"), page.getByRole("button"), page.locator("h1")]) assert.equal(await other.first().isVisible(), false);
  }));

  test("is one page in Spanish too, with lines to write changes on", reading("calm-tarjeta", async (page) => {
    await open(page);
    await page.locator(".fridge").waitFor();
    assert.ok((await page.locator(".fridge .written tbody tr").count()) >= 3);
    const pdf = (await page.pdf({ format: "A4" })).toString("latin1");
    assert.equal(pdf.match(/\/Type \/Page\b/g).length, 1);
  }, { locale: "es-ES" }));

  test("is not made while something noted of a side is not sent yet", reading("calm-waiting", async (page) => {
    await note_left_without_signal(page);
    await open(page);
    await page.getByText("Left: something noted is not sent yet. Print the card once it is sent.").waitFor();
    assert.equal(await page.locator(".fridge").count(), 0);
  }));

  for (const [household, why] of [["due", "Right: Change before tonight. Print the card after the change."], ["warned", /^The unit warned at 03:10 on \w{3} \d+ \w{3}\. Change the left cells now\.$/], ["old", "The forecast is old: print the card when there is a signal."]]) {
    test(`is not made while it would mislead (${household})`, reading(household, async (page) => {
      await open(page);
      await page.getByText(why).waitFor();
      assert.equal(await page.locator(".fridge").count(), 0);
    }));
  }
});
