// SPDX-License-Identifier: MIT
// The page without a service at all: opened from the phone, with the row of tonight by the household's clock.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { start_fake } from "./fake/server.mjs";
import { choose, phones, press, side, stock } from "./support/phone.mjs";
import { evening } from "./support/states.mjs";

const hours_ms = 3_600_000;

describe("a phone that has the pages", () => {
  const phone = phones();

  /// `work` begins where the page was seen at the evening, is on the phone, and the service is gone.
  const offline = (household, work) => () =>
    phone(async (page) => {
      const fake = await start_fake(() => evening);
      try {
        await page.clock.setFixedTime(evening);
        await page.goto(`${fake.base}/h/${household}`);
        await stock(page).waitFor();
        await page.waitForFunction(() => navigator.serviceWorker.getRegistration().then((one) => one?.active?.state === "activated"));
        await page.waitForFunction(() => navigator.serviceWorker.controller);
      } finally {
        await fake.stop();
      }
      await work(page, fake.base);
    }, { serviceWorkers: "allow" });

  const at = async (page, hours_later) => {
    await page.clock.setFixedTime(new Date(evening.getTime() + hours_later * hours_ms));
    await page.reload();
    await page.getByText("This phone has no signal. The unit does not need it.", { exact: true }).waitFor();
  };

  test("opens without a signal, with its forms and with what to do when something is wrong", offline("calm-phone", async (page) => {
    await at(page, 0.5);
    await side(page, "left").getByText("Expected to last tonight.").waitFor();
    await page.getByText(/^What stands here was computed 20:31, 39 min ago\./).waitFor();
    await page.getByRole("link", { name: "Something is wrong now" }).click();
    await page.getByText("Start the backup ventilation, as prescribed.").waitFor();
    await page.getByRole("button", { name: "Back" }).click();
    await press(page, "Cells changed");
    await choose(page, "Left");
    await choose(page, /Lot 7Q/);
    await press(page, "Record this");
    await press(page, "Yes, the left cells");
    await side(page, "left").getByText(/^Left: fresh cells noted 21:10, not sent yet\.$/).waitFor();
  }));

  test("takes the row of tonight by the household's clock, and nothing for it once the forecast is old", offline("calm-dated", async (page) => {
    assert.equal(await side(page, "left").locator(".strip .night").count(), 10);
    await at(page, 11);
    await side(page, "left").getByText("Expected to last tonight.").waitFor();
    assert.equal(await side(page, "left").locator(".strip .night").count(), 9, "the night that is over is gone");
    await at(page, 24 * 3);
    await side(page, "left").getByText("Old forecast.").waitFor();
    await side(page, "left").getByText(/^It already said: change the left cells by (today|yesterday|[A-Z]\w\w \d).*\.$/).waitFor();
    await at(page, 24 * 12);
    await side(page, "left").getByText("It does not reach to tonight.").waitFor();
    assert.equal(await page.getByText(/expected to last/i).count(), 0);
  }));

  test("opens where it was installed, on the household's own page", offline("calm-start", async (page, base) => {
    await page.evaluate(() => localStorage.setItem("cellarer:household", "calm-start"));
    await page.goto(base);
    await side(page, "left").locator(".sentence").waitFor();
  }));
});

test("what a phone needs to install the page is there", () =>
  start_fake().then(async (fake) => {
    try {
      const manifest = await (await fetch(`${fake.base}/manifest.webmanifest`)).json();
      assert.equal(manifest.display, "standalone");
      for (const { src, type } of manifest.icons) assert.equal((await fetch(fake.base + src)).headers.get("content-type"), type);
    } finally {
      await fake.stop();
    }
  }));
