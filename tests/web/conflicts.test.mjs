// SPDX-License-Identifier: MIT
// "A conflict is explained, not dropped" (issue 7): each of several refused records is told, one after the other, until
// it was closed or sent again, a reload between or not.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { start_fake } from "./fake/server.mjs";
import { entries_of } from "./support/journey.mjs";
import { choose, phones, press, send_now, side, stock } from "./support/phone.mjs";

describe("several refused records", () => {
  const phone = phones();
  let fake;
  let count = 0;
  before(async () => {
    fake = await start_fake();
  });
  after(() => fake.stop());

  const offline = (work) => () =>
    phone(async (page) => {
      const household = `due-${++count}`;
      await page.goto(`${fake.base}/h/${household}`);
      await stock(page).waitFor();
      await page.route("**/cell-changes", (route) => route.abort());
      await work(page, household);
    });

  async function change_both(page, lot) {
    await press(page, "Cells changed");
    await choose(page, "Both sides");
    await choose(page, "Other cells");
    await choose(page, /LR6 or alkaline/);
    await page.getByLabel(/Lot number/).fill(lot);
    await press(page, "Record this");
    const again = page.getByRole("button", { name: /^Yes, the / });
    await again.or(side(page, "right").getByText("not sent yet.")).first().waitFor();
    if (await again.count()) await again.click();
    for (const one of ["left", "right"]) await side(page, one).getByText("not sent yet.").waitFor();
  }

  /// done: what is on the page when the mended record was taken. The question about a side that was not due may come before.
  async function mend(page, which, done) {
    await page.locator("form").getByText("is longer than 60 bytes").waitFor();
    assert.ok(await page.getByRole("radio", { name: new RegExp(`^${which}`) }).isChecked(), `the form is of the ${which} side alone`);
    assert.equal(await page.getByLabel(/Lot number/).inputValue(), "refused");
    await page.getByLabel(/Lot number/).fill(`mended ${which}`);
    await press(page, "Record this");
    const again = page.getByRole("button", { name: /^Yes, the / });
    await again.or(done).first().waitFor();
    if (await again.count()) await again.click();
    await done.waitFor();
  }

  const mended_lots = async (household) => (await entries_of(fake.base, household)).map(({ body }) => `${body.side}: ${body.cells.lot}`).sort();

  test("both sides come back, one after the other, and are stored once each", offline(async (page, household) => {
    await change_both(page, "refused");
    await page.unroute("**/cell-changes");
    await send_now(page);
    await mend(page, "Left", page.getByRole("radio", { name: /^Right/, checked: true }));
    await mend(page, "Right", side(page, "right").getByText("Recorded:"));
    assert.deepEqual(await mended_lots(household), ["left: mended Left", "right: mended Right"]);
    assert.equal(await page.getByText("Not recorded:").count(), 0);
  }));

  test("a form that is left unmended leaves a notice, which outlives a reload, and leads back to the form", offline(async (page, household) => {
    await change_both(page, "refused");
    await page.unroute("**/cell-changes");
    await send_now(page);
    await page.locator("form").getByText("is longer than 60 bytes").waitFor();
    await press(page, "Back");
    await page.getByRole("radio", { name: /^Right/, checked: true }).waitFor();
    await press(page, "Back");
    const notice = page.getByRole("alert");
    await notice.getByText(/^Not recorded: Left: fresh cells noted/).waitFor();
    await page.reload();
    await notice.getByText(/^Not recorded: Left: fresh cells noted/).waitFor();
    await notice.getByText("1 more was not recorded.").waitFor();
    await press(notice, "Mend it");
    await mend(page, "Left", notice.getByText(/^Not recorded: Right: fresh cells noted/));
    assert.equal(await notice.getByText("1 more").count(), 0);
    await press(notice, "Close");
    await notice.waitFor({ state: "detached" });
    await page.reload();
    await stock(page).waitFor();
    await page.waitForLoadState("networkidle");
    assert.equal(await page.getByText("Not recorded:").count(), 0, "what was closed stays closed");
    assert.deepEqual(await mended_lots(household), ["left: mended Left"]);
  }));

  test("what is being typed into the same form is not lost to a refusal that comes meanwhile", offline(async (page) => {
    await change_both(page, "refused");
    await press(page, "Cells changed");
    await choose(page, "Other cells");
    await page.getByLabel(/Lot number/).fill("9Z");
    await page.unroute("**/cell-changes");
    const refused = page.waitForResponse((answer) => answer.url().endsWith("/cell-changes") && answer.request().postData().includes('"right"'));
    await page.evaluate(() => window.dispatchEvent(new Event("online")));
    await refused;
    assert.equal(await page.getByLabel(/Lot number/).inputValue(), "9Z");
    await press(page, "Back");
    await page.locator("form").getByText("is longer than 60 bytes").waitFor();
    assert.equal(await page.getByLabel(/Lot number/).inputValue(), "refused");
  }));
});
