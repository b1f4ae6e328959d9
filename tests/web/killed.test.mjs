// SPDX-License-Identifier: MIT
// The real service killed while a phone records: what the phone kept is stored exactly once when both are there again.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { access_services } from "./support/access_services.mjs";
import { choose, phones, press, send_now, side, stock } from "./support/phone.mjs";

const { start, there } = access_services.find(({ name }) => name === "the service");

describe("the service killed", { skip: there ? false : "not built" }, () => {
  const phone = phones();
  let service;
  before(async () => {
    service = await start();
  });
  after(() => service?.stop());

  test("while three records are made, and started again, has all three exactly once, in their order", () =>
    phone(async (page) => {
      const household = await service.household();
      await page.route("**/events", (route) => route.abort());  // with a stream open the network is never idle
      await page.goto(await service.phone_link(household));
      await press(page, "Sign in this phone");
      await press(page, "Open the page of the home");
      await stock(page).waitFor();
      await page.waitForLoadState("networkidle");
      await page.route("**/readings", async (route) => {
        await route.fetch().catch(() => undefined);  // it may have been stored: the answer does not arrive
        await service.kill();
        await route.abort();
      }, { times: 1 });
      for (const [which, percent] of [["Left", "31"], ["Right", "28"], ["Left", "30"]]) {
        await press(page.getByLabel("What to record"), "Note a reading");
        await choose(page, which);
        await page.getByLabel("The unit shows").fill(percent);
        await press(page, "Record this");
        await side(page, which.toLowerCase()).getByText("not sent yet.").first().waitFor();
      }
      await page.getByText("not sent yet.").nth(2).waitFor();
      await service.start_again();
      await send_now(page);
      for (const words of [/31 %/, /28 %/, /30 %/]) await page.locator(".recorded").getByText(words).waitFor();
      const { entries } = await page.evaluate((at) => fetch(at).then((answer) => answer.json()), `/api/v1/households/${household}/entries?limit=50`);
      const percents = entries.filter((one) => one.kind === "reading").map((one) => one.body.percent);
      assert.deepEqual(percents, [30, 28, 31], "newest first");
    }));
});
