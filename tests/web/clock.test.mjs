// SPDX-License-Identifier: MIT
// A phone's clock that is off is asked about, and never refused for (issue 7): what it records as now counts at once, with
// the stand-in and at the real service, whose rule it is that a record more than ten minutes ahead is asked about first.
import assert from "node:assert/strict";
import { test } from "node:test";
import { setTimeout } from "node:timers/promises";
import { entries_of, with_each_service } from "./support/journey.mjs";
import { choose, press, send_now, side, stock } from "./support/phone.mjs";

const minutes = 60_000;

with_each_service("a phone's clock, with", ({ phone, service }) => {
  const ahead_by = (ms, work) => () =>
    phone(async (page) => {
      const household = await service().household();
      await service().let_in(page, household);
      await page.clock.install({ time: new Date(Date.now() + ms) });
      await page.goto(`${service().base}/h/${household}`);
      await stock(page).locator(".sentence").waitFor();
      await page.getByText(/^This phone's clock shows \d\d:\d\d, the service's \d\d:\d\d\. Which is right\?$/).waitFor();
      await work(page, household);
    });

  async function note_a_warning(page) {
    await press(page, "The unit warned");
    await choose(page, "Left");
    await press(page, "Record the warning");
  }
  const warned = (page) => side(page, "left").getByText(/^The unit warned at \d\d:\d\d (today|yesterday|tomorrow)\. Change the left cells now\.$/);

  /// The warning's time, against the service's clock, which is this machine's: never ahead of it, and of now. The page
  /// tells of a warning before the service has it.
  async function is_of_now(household) {
    const stored = async () => (await entries_of(service().base, household)).find(({ body }) => body.warning);
    let warning;
    for (const late = Date.now() + 20_000; !warning && Date.now() < late; await setTimeout(50)) warning = await stored();
    assert.ok(warning, "the service has it");
    const late_ms = Date.now() - Date.parse(warning.at);
    assert.ok(late_ms >= 0 && late_ms < 3 * minutes, `it lies ${late_ms} ms back`);
  }

  for (const [how, ms] of [["25 minutes ahead", 25 * minutes], ["25 minutes behind", -25 * minutes]]) {
    test(`${how}: a warning noted before anyone answered counts at once`, ahead_by(ms, async (page, household) => {
      await note_a_warning(page);
      await warned(page).waitFor();
      await is_of_now(household);
    }));
  }

  test("25 minutes ahead: one noted without a signal counts as soon as it is sent", ahead_by(25 * minutes, async (page, household) => {
    await page.route("**/readings", (route) => route.abort());
    await note_a_warning(page);
    await side(page, "left").getByText("not sent yet.").waitFor();
    await page.unroute("**/readings");
    await send_now(side(page, "left"));
    await warned(page).waitFor();
    await is_of_now(household);
  }));

  test("25 minutes ahead: one noted before the service's time was known takes it when it is sent", ahead_by(25 * minutes, async (page, household) => {
    await page.route("**/api/**", (route) => route.abort());
    await page.reload();
    await page.getByText("This phone has no signal. The unit does not need it.", { exact: true }).waitFor();
    assert.equal(await page.getByText(/Which is right\?$/).count(), 0, "nothing is known of the service's clock");
    await note_a_warning(page);
    await page.getByText("not sent yet.").first().waitFor();
    await page.unroute("**/api/**");
    await send_now(page);
    await warned(page).waitFor();
    await is_of_now(household);
  }));

  test("the answer is kept, and can be changed: by the phone's clock a now that lies ahead is asked about, by the service's not", ahead_by(25 * minutes, async (page, household) => {
    await press(page, "The phone's is right");
    await page.reload();
    await page.getByText("What is recorded as now takes the phone's time, as you answered.").waitFor();
    await note_a_warning(page);
    await page.getByText("That time has not come yet.").waitFor();
    await press(page, "Back");
    await press(page.getByRole("alert"), "Close");
    await press(page, "The service's is right");
    await page.reload();
    await page.getByText("What is recorded as now takes the service's time, as you answered.").waitFor();
    assert.equal(await page.getByRole("button", { name: "The service's is right" }).count(), 0);
    await note_a_warning(page);
    await warned(page).waitFor();
    await is_of_now(household);
  }));
});
