// SPDX-License-Identifier: MIT
// How the bench looks, measured: axe's rules and the width of every page, at a desk by day and in the dark, at 320 px, with
// the system's own colours; and its way by keyboard.
import assert from "node:assert/strict";
import { test } from "node:test";
import { objections } from "./support/axe.mjs";
import { with_bench } from "./support/bench.mjs";

const pages = [
  "bench", "bench/finding?id=use/h-0142/left/2026-11-19T20:31:00Z", "bench/sides", "bench/side?household=h-0142&side=left&check=settings_read", "bench/units", "bench/unit?serial=u-31", "bench/lots", "bench/wear", "bench/profiles",
  "bench/proposal?number=9", "bench/cell", "bench/measure?kind=unit", "bench/measure?kind=stimulator", "bench/steps",
];
const looks = { "by day": {}, "320 px, dark": { colorScheme: "dark", viewport: { width: 320, height: 640 } }, "forced colours": { forcedColors: "active" } };

with_bench("its look", ({ at_bench }) => {
  for (const [what, options] of Object.entries(looks)) {
    test(`axe finds nothing on any page (${what}), and each fits the screen`, at_bench("bench", async (page, _, fake) => {
      for (const hash of pages) {
        await page.goto("about:blank");
        await page.goto(`${fake.base}/#${hash}`);
        await page.locator("main h1").waitFor();
        await page.waitForFunction(() => !document.body.textContent.includes("Asking…"));
        await page.locator("summary").evaluateAll((all) => all.forEach((one) => one.parentElement.open || one.click()));
        if (hash.startsWith("bench/side?")) await page.locator(".drawing .u-over").nth(2).waitFor();
        assert.deepEqual((await objections(page)).map((one) => `${hash}: ${one}`), []);
      }
    }, options));
  }

  test("a finding is opened, taken on and left by keyboard alone", at_bench("bench", async (page) => {
    await page.getByRole("link", { name: "The left side uses more since one set" }).focus();
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "The left side uses more since one set" }).waitFor();
    await page.locator("h1:focus").waitFor();
    await page.getByRole("button", { name: "I take it on" }).focus();
    await page.keyboard.press("Enter");
    await page.getByText("Recorded: taken on.").waitFor();
    await page.goBack();
    await page.getByRole("heading", { name: "Findings", exact: true }).waitFor();
  }));
});
