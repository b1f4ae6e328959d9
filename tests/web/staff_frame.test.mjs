// SPDX-License-Identifier: MIT
// The frame around the desks: who finds which sections, by keyboard too, and that no phone of a home fetches any of it.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { after, before, describe, test } from "node:test";
import { start_fake } from "./fake/server.mjs";
import { start_browser } from "./support/browser.mjs";
import { evening } from "./support/states.mjs";
import { open_desk, sign_in_as } from "./support/staff.mjs";

describe("the frame of the desks", () => {
  let fake;
  let browser;
  before(async () => {
    [fake, browser] = await Promise.all([start_fake(() => evening, { locked: true }), start_browser()]);
  });
  after(async () => {
    await browser?.close();
    await fake?.stop();
  });

  const at_desk = (role, hash, work, options) => async () => {
    sign_in_as(fake, role);
    const { context, page } = await open_desk(browser, fake, hash, options);
    try {
      await work(page);
    } finally {
      await context.close();
    }
  };
  const sections = (page) => page.getByRole("navigation", { name: "Sections" });

  test("a technician comes to the bench first, and the open section is told", at_desk("technician", "", async (page) => {
    assert.equal(await sections(page).locator("[aria-current=page]").textContent(), "Technician's bench");
    assert.equal(await page.getByRole("link", { name: "People" }).count(), 0);
  }));

  test("an administrator comes to the households and finds the people", at_desk("administrator", "", async (page) => {
    assert.equal(await sections(page).locator("[aria-current=page]").textContent(), "Households");
    await page.getByRole("link", { name: "People", exact: true }).click();
    await page.getByRole("heading", { name: "People of the agency" }).waitFor();
  }));

  test("a planner who asks for the bench is not shown it", at_desk("planner", "bench", async (page) => {
    assert.notEqual(await page.locator("h1").textContent(), "Findings");
    assert.equal(await page.getByRole("link", { name: "Technician's bench" }).count(), 0);
  }));

  test("the first key leads past the sections to the page, whose heading then has the focus", at_desk("technician", "households", async (page) => {
    await page.locator("body").evaluate(() => document.activeElement?.blur());
    await page.getByRole("link", { name: "To the page itself" }).focus();
    await page.keyboard.press("Enter");
    assert.equal(await page.evaluate(() => document.activeElement?.textContent), "Households");
  }));

  test("one's own way in is behind one's own label, and help stays in sight", at_desk("technician", "households", async (page) => {
    await page.getByRole("link", { name: "Workshop" }).click();
    await page.getByRole("heading", { name: "Workshop, technician" }).waitFor();
    await page.getByText("An estimate. The unit's own alarm comes first: act on it at once.").waitFor();
    await page.getByRole("link", { name: "Something is wrong now" }).waitFor();
  }));

  test("the phones of a home keep no file of the desks", () => {
    const worker = readFileSync(new URL("../../web/dist/worker.js", import.meta.url), "utf8");
    assert.match(worker, /main-[A-Z0-9]{8}\.js/);
    for (const name of ["bench", "start", "households"]) assert.doesNotMatch(worker, new RegExp(`${name}-[A-Z0-9]{8}\\.js`));
  });
});
