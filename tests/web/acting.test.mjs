// SPDX-License-Identifier: MIT
// Where something is to be done: the alarm colour, what to take, the one button, and the lines on top of a small
// screen or large text.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { on_the_evening } from "./support/journey.mjs";
import { press, side, stock } from "./support/phone.mjs";
import { enlarge_text } from "./support/states.mjs";

describe("a side to be changed", () => {
  const { reading } = on_the_evening();

  const sentence = async (page, name) => (await side(page, name).locator(".sentence").allTextContents()).join(" | ");

  test("where cells have no forecast what to do is the loud sentence, and the phrase is not", reading("wrong", async (page) => {
    const look = (text) => side(page, "left").getByText(text, { exact: typeof text === "string" }).evaluate((one) => [getComputedStyle(one).color, getComputedStyle(one).fontSize]);
    const [[quiet], [loud, size], [frame]] = await Promise.all([look("No forecast."), look(/^Put new alkaline cells in the left side, by .*21:30.* at the latest\.$/), look("Left: cells changed")]);
    assert.equal(size, "21px");
    assert.notEqual(loud, quiet);
    assert.equal(loud, await side(page, "left").evaluate((card) => getComputedStyle(card).borderTopColor));
    assert.notEqual(frame, loud, "the button is not written in it");
    await side(page, "left").getByText("These cells have no forecast.", { exact: true }).waitFor();
  }));

  test("wrong cells stand in the alarm colour, with what to take and the button", reading("wrong", async (page) => {
    assert.deepEqual(await page.locator(".act").evaluateAll((all) => all.map((one) => one.dataset.side)), ["left"]);
    await side(page, "left").getByText("Take 2 new cells, lot 7Q, from the hall cupboard.").waitFor();
    await press(side(page, "left"), "Left: cells changed");
    assert.ok(await page.getByRole("radio", { name: "Left" }).isChecked());
  }));

  for (const [household, name, words] of [["due", "right", "Right: cells changed"], ["now", "left", "Left: cells changed"], ["warned", "left", "Left: cells changed"], ["stopped", "right", "Right: cells changed"], ["unknown", "left", /^I have just put in fresh cells/]]) {
    test(`where a side is to be changed (${household}) its one main button is last and opens the form with that side`, reading(household, async (page) => {
      const buttons = side(page, name).locator("button.main");
      assert.equal(await buttons.count(), 1);
      assert.ok(await side(page, name).evaluate((card) => card.lastElementChild.matches("button.main")));
      await press(side(page, name), words);
      await page.getByRole("heading", { name: "Cells changed" }).waitFor();
      assert.deepEqual(await page.locator("input[name=side]:checked").evaluateAll((all) => all.map((one) => one.value)), [name]);
    }));
  }

  test("nothing is asked for before a change that is due now", reading("now", async (page) => {
    assert.deepEqual(await side(page, "left").getByRole("button", { name: /reading/ }).count(), 0);
    await side(page, "left").getByText("lower than expected: the forecast goes by it, to be early rather than late.").waitFor();
  }));

  test("a side that stopped says also what to do until it is mended", reading("stopped", async (page) => {
    assert.match(await sentence(page, "right"), /Look at the wearer first\. Change the right cells now\.$/);
    await side(page, "right").getByText("Use the backup ventilation as prescribed.").waitFor();
  }));

  for (const [household, first, lines] of [
    ["due", "right", ["Right: change before tonight.", "Left: expected to last tonight."]],
    ["warned", "left", ["Left: change now.", "Right: expected to last tonight."]],
    ["wrong", "left", ["Left: no forecast: put in new cells.", "Right: expected to last tonight."]],
    ["old", "right", ["Right: old forecast, which asked for a change.", "Left: old forecast."]],
  ]) {
    test(`where the second side lies below the screen, both stand in a line on top, the urgent one first (${household})`, reading(household, async (page) => {
      await enlarge_text(page, 200);
      const links = page.locator(".overview a");
      await links.first().waitFor();
      assert.deepEqual(await links.allTextContents(), lines);
      assert.ok(await links.last().evaluate((one) => one.getBoundingClientRect().bottom < innerHeight), "both lines are in sight");
      await links.first().click();
      assert.ok(await side(page, first).locator(".sentence").evaluate((one) => one.getBoundingClientRect().top < innerHeight / 2));
      assert.equal(await page.evaluate(() => document.activeElement.id), `${first}-name`);
    }));
  }

  test("where the lower card alone asks for a change, one line on top says so, though both sentences are in sight", reading("due", async (page) => {
    const links = page.locator(".overview a");
    assert.deepEqual(await links.allTextContents(), ["Right: change before tonight."]);
    const [line, act] = await Promise.all([links.first(), side(page, "right").locator(".sentence")].map((one) => one.evaluate((it) => [getComputedStyle(it).color, getComputedStyle(it).fontSize])));
    assert.deepEqual(line, act, "in the alarm colour and the size of a sentence");
    assert.deepEqual(await page.locator("[data-side]").evaluateAll((all) => all.map((one) => one.dataset.side)), ["left", "right"], "sides keep their places");
    await links.first().click();
    assert.equal(await page.evaluate(() => document.activeElement.id), "right-name");
  }));

  for (const household of ["calm", "now", "warned", "unknown", "old"]) {
    test(`no such line stands where the upper card asks, or none (${household})`, reading(household, async (page) => {
      assert.equal(await page.locator(".overview.first").count(), 0);
    }));
  }

  test("with large text the sentence comes before the button for its reasons", reading("due", async (page) => {
    const top = (selector) => side(page, "left").locator(selector).evaluate((one) => one.getBoundingClientRect().top);
    assert.ok((await top(".how")) < (await top(".sentence")));
    await enlarge_text(page, 200);
    await page.locator("[data-big-letters]").waitFor({ state: "attached" });
    assert.ok((await top(".how")) > (await top(".sentence")));
  }));
});
