// SPDX-License-Identifier: MIT
// Room for other languages: no screen grows too wide, nothing is cut off, and no two targets lie on each other, with
// text 40 % longer and with text from the right.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { start_fake } from "./fake/server.mjs";
import { open_phone, start_browser } from "./support/browser.mjs";
import { languages } from "./support/languages.mjs";
import { open_screen, screens } from "./support/screens.mjs";
import { evening } from "./support/states.mjs";

describe("in a language", () => {
  let fake;
  let browser;
  before(async () => {
    [fake, browser] = await Promise.all([start_fake(() => evening), start_browser()]);
  });
  after(async () => {
    await browser?.close();
    await fake?.stop();
  });

  const faults_on = (page) =>
    page.evaluate(() => {
      const faults = [];
      const wide = document.documentElement.scrollWidth - innerWidth;
      if (wide > 0) faults.push(`${wide} px too wide`);
      const in_sight = [...document.querySelectorAll("main p, main h1, main h2, main button, main label, main legend, main a, footer a, footer p")].filter((one) => one.checkVisibility() && !one.closest(".unseen, svg"));
      for (const one of in_sight) {
        const { left, right } = one.getBoundingClientRect();
        if (!one.classList.contains("unseen") && (left < -0.5 || right > innerWidth + 0.5)) faults.push(`beside the screen: ${one.textContent.slice(0, 40)}`);
        if (one.scrollWidth > one.clientWidth + 1 && one.clientWidth > 1) faults.push(`cut off: ${one.textContent.slice(0, 40)}`);
      }
      const targets = in_sight.filter((one) => one.matches("main button, main a")).map((one) => [one, one.getBoundingClientRect()]);
      for (const [index, [one, a]] of targets.entries()) {
        for (const [other, b] of targets.slice(index + 1)) {
          if (one.contains(other) || other.contains(one)) continue;
          if (Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 1) faults.push(`on each other: ${one.textContent.slice(0, 30)} | ${other.textContent.slice(0, 30)}`);
        }
      }
      return faults;
    });

  for (const { what, options, speak } of Object.values(languages)) {
    for (const width of [390, 320]) {
      test(`${what}, every screen fits at ${width} px`, async () => {
        const context = await open_phone(browser, { viewport: { width, height: 700 }, ...options });
        await speak(context);
        try {
          const page = await context.newPage();
          await page.clock.setFixedTime(evening);
          await page.goto(`${fake.base}/h/due`);
          await page.locator("[data-stock]").waitFor();
          for (const hash of screens) {
            await open_screen(page, hash);
            assert.deepEqual((await faults_on(page)).map((fault) => `#${hash}: ${fault}`), []);
          }
        } finally {
          await context.close();
        }
      });
    }
  }
});
