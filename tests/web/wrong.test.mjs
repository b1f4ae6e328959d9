// SPDX-License-Identifier: MIT
// "Something is wrong now": the wearer first, then the backup, then a call, only then the unit; and no forecast.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { on_the_evening } from "./support/journey.mjs";

const agency = { number: "+47 22 00 00 00", label: "Night nurse", steps: [{ words: "Look at the wearer." }, { words: "Start the backup ventilation, as prescribed.", more: "Do not look for the cause first." }, { words: "Only then look at the unit." }], approved_on: "2026-11-02", approved_by: "Office" };

describe("when something is wrong", () => {
  const { reading } = on_the_evening();

  const with_help = (help, work) =>
    reading("now-wrong", async (page) => {
      await page.route(/\/households\/now-wrong$/, async (route) => route.fulfill({ json: { ...(await (await route.fetch()).json()), help } }));
      await page.reload();
      await page.locator("[data-stock]").waitFor();
      await page.getByRole("link", { name: "Something is wrong now" }).click();
      await page.getByRole("heading", { level: 1, name: "Something is wrong now" }).waitFor();
      await work(page);
    });

  const order = async (page, parts) => {
    const text = await page.locator("main").innerText();
    const places = parts.map((part) => text.indexOf(part));
    assert.ok(places.every((place) => place >= 0), `${parts[places.indexOf(-1)]} is not in: ${text}`);
    assert.deepEqual(places, [...places].sort((a, b) => a - b));
    assert.doesNotMatch(text, /expected to last|change now|change by|forecast/i);
    assert.equal(await page.locator(".window").count(), 0);
  };

  test("the number that the agency entered is one tap, before cells, contacts and antenna", with_help({ number: "+47 22 00 00 00", label: "Night nurse" }, async (page) => {
    await order(page, ["Look at the wearer.", "Start the backup ventilation, as prescribed.", "Call for help.", "Night nurse", "Only then look at the unit.", "Cells", "Contacts", "Antenna"]);
    assert.equal(await page.getByRole("link", { name: /Night nurse/ }).getAttribute("href"), "tel:+4722000000");
    await page.getByText("The agency has not approved these words yet.").waitFor();
  }));

  test("words that the agency approved are shown as they are, with the day; the call stays before the unit", with_help(agency, async (page) => {
    await order(page, ["Look at the wearer.", "Start the backup ventilation, as prescribed.", "Call for help.", "Night nurse", "Only then look at the unit."]);
    await page.getByText(/^Approved by the agency on .*2 Nov/).waitFor();
    assert.equal(await page.getByText("has not approved").count(), 0);
  }));

  test("where no number is entered it says whom to call", with_help(null, async (page) => {
    await page.getByText("No number is entered here. Call the one you were given for this, or the emergency number where you are.").waitFor();
  }));
});
