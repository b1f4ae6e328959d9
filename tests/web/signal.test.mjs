// SPDX-License-Identifier: MIT
// Records on their way: without a signal, with a lost answer, refused after the form was left.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { start_fake } from "./fake/server.mjs";
import { entries_of } from "./support/journey.mjs";
import { choose, phones, press, send_now, side, stock } from "./support/phone.mjs";
import { evening } from "./support/states.mjs";

describe("a record on its way", () => {
  const phone = phones();
  let fake;
  let still;
  let count = 0;
  before(async () => {
    [fake, still] = await Promise.all([start_fake(), start_fake(() => evening)]);
  });
  after(() => Promise.all([fake.stop(), still.stop()]));

  const sending = (work) => () =>
    phone(async (page) => {
      const household = `due-${++count}`;
      await page.goto(`${fake.base}/h/${household}`);
      await stock(page).waitFor();
      await work(page, household);
    });

  const entries = (household) => entries_of(fake.base, household);

  async function record_right_change(page) {
    await press(page, "Cells changed");
    await choose(page, "Right");
    await choose(page, /Lot 7Q/);
    await press(page, "Record this");
  }

  test("hides the old forecast, says that it is being sent, and is sent by itself when the signal is back", sending(async (page, household) => {
    await page.route("**/cell-changes", (route) => route.abort());
    await record_right_change(page);
    await side(page, "right").getByText(/^Right: fresh cells noted \d\d:\d\d, not sent yet\.$/).waitFor();
    await side(page, "right").getByText("It is kept on this phone, and sent when the signal is back and this page is open. You may lock the phone.").waitFor();
    assert.equal(await side(page, "right").getByText("Change before tonight.").count(), 0);
    assert.equal(await side(page, "right").locator(".window").count(), 0);
    await page.getByText("This phone has no signal. The unit does not need it.", { exact: true }).waitFor();
    await page.unroute("**/cell-changes");
    await send_now(side(page, "right"));
    await side(page, "right").getByText("Recorded:").waitFor();
    assert.equal((await entries(household)).length, 1);
  }));

  test("whose answer was lost is sent again with the same key, and stored once", sending(async (page, household) => {
    const keys = [];
    let lost = 0;
    await page.route("**/cell-changes", async (route) => {
      keys.push(route.request().headers()["idempotency-key"]);
      if (lost++) return route.continue();
      await route.fetch();
      return route.abort();
    });
    await record_right_change(page);
    await side(page, "right").getByText("Recorded:").waitFor();
    assert.equal(keys.length, 2);
    assert.equal(keys[0], keys[1]);
    assert.equal((await entries(household)).length, 1);
  }));

  // Section 9.3: until the next change the side shows the order to change, sent or not.
  const without_signal = (household, work) => () =>
    phone(async (page) => {
      await page.goto(`${fake.base}/h/${household}`);
      await stock(page).waitFor();
      await page.route("**/readings", (route) => route.abort());
      await work(page);
    });

  const stands_as_alarm = async (page, name) => {
    const card = side(page, name);
    assert.ok((await card.getAttribute("class")).includes("act"));
    await card.getByText(new RegExp(`^Take 2 new cells.* Change the 2 ${name} cells together\\.$`)).waitFor();
    await card.getByRole("button", { name: /: cells changed$/ }).waitFor();
    await card.locator(".note").getByText(/not sent yet\.$/).waitFor();
    assert.equal(await card.getByText(/Change by|Expected to last/).count(), 0);
    assert.equal(await card.locator(".window").count(), 0);
  };

  test("a warning that is not sent yet orders the change all the same", without_signal("calm-warning", async (page) => {
    await press(page, "The unit warned");
    await choose(page, "Left");
    await press(page, "Record the warning");
    await side(page, "left").getByText(/^The unit warned at \d\d:\d\d today\. Change the left cells now\.$/).waitFor();
    await stands_as_alarm(page, "left");
    await press(side(page, "left"), /: cells changed$/);
    await page.getByText(/^Left: cells changed today \d\d:\d\d; the unit warned;/).waitFor();
    await choose(page, /Lot 7Q/);
    await page.route("**/cell-changes", (route) => route.abort());
    await press(page, "Record this");
    await side(page, "left").getByText(/^Left: fresh cells noted/).waitFor();
    assert.equal(await side(page, "left").getByText(/^The unit warned at/).count(), 0, "a change takes its place");
  }));

  test("a stop that is not sent yet says what to do for the wearer first, in the form and in the card", without_signal("calm-stop", async (page) => {
    await press(page, "Note a reading");
    await choose(page, "Right");
    await choose(page, "This side stopped");
    await page.getByText("Look at the wearer first. Use the backup ventilation as prescribed.").waitFor();
    await press(page, "Record this");
    await side(page, "right").getByText(/^The right side was recorded as stopped at \d\d:\d\d today\. Look at the wearer first\. Change the right cells now\.$/).waitFor();
    await side(page, "right").getByText("Use the backup ventilation as prescribed.", { exact: true }).waitFor();
    await stands_as_alarm(page, "right");
    await page.getByRole("link", { name: "Right: change now." }).waitFor();
  }));

  test("a reading that is not sent yet leaves the order of a side that warned", without_signal("warned-reading", async (page) => {
    await press(page, "Note a reading");
    await choose(page, "Left");
    await page.getByLabel("The unit shows").fill("43");
    await press(page, "Record this");
    await side(page, "left").getByText(/gauge 43 %.*not sent yet\.$/).waitFor();
    await side(page, "left").getByText(/^The unit warned at 03:10 .* Change the left cells now\.$/).waitFor();
    await stands_as_alarm(page, "left");
  }));

  // Design, 9.2: go by the worse.
  test("a low reading that is not sent yet hides how sure it is, and leaves the order to change before tonight with its age", () =>
    phone(async (page) => {
      await page.clock.setFixedTime(evening);
      await page.goto(`${still.base}/h/due-reading`);
      await stock(page).waitFor();
      await page.route("**/readings", (route) => route.abort());
      await press(page, "Note a reading");
      await choose(page, "Right");
      await page.getByLabel("The unit shows").fill("9");
      await press(page, "Record this");
      const card = side(page, "right");
      await card.locator(".note").getByText(/gauge 9 %.*not sent yet\.$/).waitFor();
      await card.getByText("Change before tonight.", { exact: true }).waitFor();
      await card.getByText("By 21:30 today.", { exact: true }).waitFor();
      await card.getByText("Computed today 20:31, 9 min ago, without what is not sent yet. Change them all the same.").waitFor();
      await stands_as_alarm(page, "right");
      assert.equal(await card.getByRole("button", { name: /How sure/ }).count(), 0);
      await page.getByRole("link", { name: "Right: change before tonight." }).waitFor();
      await press(page, "What is planned");
      await page.getByText("Right: change by today 21:30.").waitFor();
    }));

  test("a stop noted before any forecast is here has its card", () =>
    phone(async (page) => {
      await page.route(/\/forecast$|\/readings$/, (route) => route.abort());
      await page.goto(`${fake.base}/h/calm-nothing`);
      await press(page.getByLabel("What to record"), "Note a reading");
      await choose(page, "Left");
      await choose(page, "This side stopped");
      await press(page, "Record this");
      await side(page, "left").getByText(/^The left side was recorded as stopped at .* Look at the wearer first\./).waitFor();
      await page.locator(".note").getByText(/not sent yet\.$/).waitFor();
    }));

  test("survives a reload of the page", sending(async (page, household) => {
    await page.route("**/cell-changes", (route) => route.abort());
    await record_right_change(page);
    await side(page, "right").getByText("not sent yet.").waitFor();
    await page.unroute("**/cell-changes");
    await page.reload();
    await side(page, "right").getByText("Recorded:").waitFor();
    assert.equal((await entries(household)).length, 1);
  }));

  test("comes back in its form if it is refused after the form was left, with all that was typed", sending(async (page) => {
    let release;
    const held = new Promise((resolve) => (release = resolve));
    await page.route("**/cell-changes", async (route) => {
      await held;
      await route.continue();
    });
    await press(page, "Cells changed");
    await choose(page, "Right");
    await choose(page, "Other cells");
    await choose(page, /LR6 or alkaline/);
    await page.getByLabel(/Lot number/).fill("refused");
    await press(page, "Record this");
    await side(page, "right").getByText("being sent.").waitFor();
    release();
    await page.locator("form").getByText("is longer than 60 bytes").waitFor();
    assert.equal(await page.getByLabel(/Lot number/).inputValue(), "refused");
    assert.ok(await page.getByRole("radio", { name: "Right" }).isChecked());
    assert.ok(await page.getByRole("radio", { name: "Other cells" }).isChecked());
  }));

  test("what is typed stays when a form is left and opened again", sending(async (page) => {
    await press(page, "Note a reading");
    await choose(page, "Left");
    await page.getByLabel("The unit shows").fill("43");
    await press(page, "Back");
    await press(page, "Note a reading");
    assert.equal(await page.getByLabel("The unit shows").inputValue(), "43");
    assert.equal(await page.locator("input[name=side]:checked").count(), 0, "the side is asked again");
  }));

  test("a form opens without a signal once the page had a moment to fetch it", sending(async (page) => {
    await page.waitForFunction(() => performance.getEntriesByType("resource").some((one) => one.name.includes("record_forms")));
    await page.waitForLoadState("networkidle");
    await page.route("**/*", (route) => route.abort());
    await press(page, "Cells changed");
    await page.getByRole("heading", { name: "Cells changed" }).waitFor();
  }));

  test("a form that cannot be fetched says so, and opens once there is a signal, on the same screen", () =>
    phone(async (page) => {
      await page.route("**/record_forms-*", (route) => route.abort());
      await page.goto(`${fake.base}/h/calm-late`);
      await stock(page).waitFor();
      await press(page, "Note a reading");
      await page.getByText("This cannot be opened now: no signal.").waitFor();
      await page.unroute("**/record_forms-*");
      await press(page, "Try again");
      await page.getByRole("heading", { name: "Note a reading" }).waitFor();
    }));

  test("three records made while the service is down outlive their page, and are stored once each, in their order", () =>
    phone(async (page) => {
      const own = await start_fake();
      try {
        await page.goto(`${own.base}/h/calm-three`);
        await stock(page).waitFor();
        await page.waitForLoadState("networkidle");
        await own.stop();
        for (const [which, percent] of [["Left", "71"], ["Right", "64"], ["Left", "70"]]) {
          await press(page, "Note a reading");
          await choose(page, which);
          await page.getByLabel("The unit shows").fill(percent);
          await press(page, "Record this");
          await side(page, which.toLowerCase()).getByText("not sent yet.").first().waitFor();
        }
        await page.waitForFunction(() => document.querySelectorAll(".note .sentence").length === 3);
        const context = page.context();
        await page.close();
        await own.start_again();
        const later = await context.newPage();
        await later.goto(`${own.base}/h/calm-three`);
        for (const words of [/71 %/, /64 %/, /70 %/]) await later.locator(".recorded").getByText(words).waitFor();
        const stored = (await entries_of(own.base, "calm-three")).reverse().map((entry) => entry.body.percent);
        assert.deepEqual(stored, [71, 64, 70]);
      } finally {
        await own.stop();
      }
    }));

  test("opening the page without a signal says so and shows no forecast", () =>
    phone(async (page) => {
      await page.route("**/api/**", (route) => route.abort());
      await page.goto(`${fake.base}/h/calm-x`);
      await page.getByText("This phone has no signal. The unit does not need it.", { exact: true }).waitFor();
      await page.getByText(/fresh cells in both sides/).waitFor();
    }));
});
