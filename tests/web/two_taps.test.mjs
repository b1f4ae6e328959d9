// SPDX-License-Identifier: MIT
// "In two taps they have recorded a change" (issue 7), where a side asks for one: its card's button, then the form's.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { start_fake } from "./fake/server.mjs";
import { entries_of } from "./support/journey.mjs";
import { phones, press, side, stock } from "./support/phone.mjs";

describe("a change in two taps", () => {
  const phone = phones();
  let fake;
  before(async () => {
    fake = await start_fake();
  });
  after(() => fake.stop());

  const open = async (page, household) => {
    await page.goto(`${fake.base}/h/${household}`);
    await stock(page).waitFor();
    await press(side(page, "right"), "Right: cells changed");
    await page.getByRole("heading", { name: "Cells changed" }).waitFor();
  };
  /// Top and bottom of what is shown, and where the foot begins.
  const places = (page) => page.evaluate(() => {
    const place = (named) => { const { top, bottom } = document.querySelector(named).getBoundingClientRect(); return { top, bottom }; };
    return { summary: place(".summary"), button: place("form .main"), foot: place(".help").top, height: innerHeight };
  });

  test("the button of the side, then that of the form, and nothing else", () =>
    phone(async (page) => {
      await open(page, "due-taps");
      await press(page, "Record this");
      await side(page, "right").getByText("Recorded:").waitFor();
      const [{ kind, body }, ...others] = await entries_of(fake.base, "due-taps");
      assert.deepEqual([kind, body.side, body.from_stock, others.length], ["cell_change", "right", true, 0]);
    }));

  test("and nothing more is asked of the service: the answer has all that the page then shows", () =>
    phone(async (page) => {
      await open(page, "due-asked");
      const asked = [];
      page.on("request", (request) => request.url().includes("/api/") && asked.push(`${request.method()} ${new URL(request.url()).pathname}`));
      await press(page, "Record this");
      await side(page, "right").getByText("Recorded:").waitFor();
      await stock(page).getByText("20 cells").first().waitFor();  // of the 22 in the stand-in's two lots, less the two that went in
      await page.waitForLoadState("networkidle");
      assert.deepEqual(asked, ["POST /api/v1/households/due-asked/cell-changes"]);
      await press(page.getByLabel("What to record"), "Cells changed");
      await page.locator("form").getByText("8 cells").first().waitFor();  // of the lot's 10, as the household's document has it
    }));

  test("what will be recorded and the button are in sight without scrolling, at 390 x 844", () =>
    phone(async (page) => {
      await open(page, "due-sight");
      const { summary, button, foot } = await places(page);
      assert.ok(summary.top > 0 && summary.bottom <= button.top && button.bottom <= foot, JSON.stringify({ summary, button, foot }));
      assert.ok(button.bottom - summary.top < 844 / 3, "and leave most of the screen to the fields");
    }));

  for (const [what, options, letters] of [["on a small phone", { viewport: { width: 320, height: 568 } }, "100%"], ["with text twice as large", {}, "200%"], ["as usual", {}, "100%"]]) {
    test(`${what} nothing that has the focus is covered`, () =>
      phone(async (page) => {
        await page.addInitScript((size) => addEventListener("DOMContentLoaded", () => (document.documentElement.style.fontSize = size)), letters);
        await open(page, `due-focus-${letters.slice(0, 1)}-${options.viewport?.width ?? 390}`);
        for (let step = 0; step < 14; step++) {
          await page.keyboard.press("Tab");
          const covered = await page.evaluate(() => {
            const has = document.activeElement;
            const shown = has.closest(".choice") ?? has;
            if (!shown.closest("form") || shown.closest(".record")) return null;
            const { left, top, right, bottom } = shown.getBoundingClientRect();
            const at = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
            return at && (shown.contains(at) || at.contains(shown)) ? null : shown.textContent;
          });
          assert.equal(covered, null);
        }
      }, options));
  }
});
