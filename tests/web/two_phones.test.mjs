// SPDX-License-Identifier: MIT
// Two phones of one home, at the real service: what one records the other shows within two seconds, unasked.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { open_phone, start_browser } from "./support/browser.mjs";
import { choose, press, send_now, side, stock } from "./support/phone.mjs";
import { services } from "./support/services.mjs";

const { start, there } = services.find(({ name }) => name === "the service");

describe("two phones of a home", { skip: there ? false : "not built" }, () => {
  let service, browser;
  before(async () => {
    service = await start();
    browser = await start_browser();
  });
  after(async () => {
    await browser?.close();
    await service?.stop();
  });

  const open_page = async (household) => {
    const page = await (await open_phone(browser)).newPage();
    await service.let_in(page, household);
    const listening = page.waitForResponse((answer) => answer.url().endsWith("/events"));
    await page.goto(`${service.base}/h/${household}`);
    await stock(page).waitFor();
    assert.equal((await listening).status(), 200);
    return page;
  };

  test("agree within two seconds", async () => {
    const household = await service.household();
    const kitchen = await open_page(household), bedroom = await open_page(household);
    await press(kitchen, "The unit warned");
    await choose(kitchen, "Left");
    const stored = kitchen.waitForResponse((answer) => answer.url().endsWith("/readings"));
    await press(kitchen, "Record the warning");
    assert.equal((await stored).status(), 201);
    const since = Date.now();
    await side(bedroom, "left").getByText(/The unit warned/).first().waitFor();
    const took_ms = Date.now() - since;
    assert.ok(took_ms < 2000, `the other phone showed it after ${took_ms} ms`);
  });

  test("a phone that was put away hears what it missed when it is taken up again", async () => {
    const household = await service.household();
    const kitchen = await open_page(household), bedroom = await open_page(household);
    await bedroom.evaluate(() => {
      Object.defineProperty(document, "hidden", { value: true, configurable: true });
      document.dispatchEvent(new Event("visibilitychange"));
    });
    await press(kitchen, "The unit warned");
    await choose(kitchen, "Right");
    await press(kitchen, "Record the warning");
    await side(kitchen, "right").getByText(/The unit warned/).first().waitFor();
    assert.equal(await side(bedroom, "right").getByText(/The unit warned/).count(), 0, "a page that nobody sees does not listen");
    await bedroom.evaluate(() => {
      Object.defineProperty(document, "hidden", { value: false, configurable: true });
      document.dispatchEvent(new Event("visibilitychange"));
    });
    await side(bedroom, "right").getByText(/The unit warned/).first().waitFor();
  });

  test("what another phone did first is explained on the one that comes later, and nothing is dropped unsaid", async () => {
    const household = await service.household();
    const kitchen = await open_page(household), bedroom = await open_page(household);
    const entries = [];
    for (const which of ["Left", "Right"]) {
      await press(kitchen, "Note a reading");
      await choose(kitchen, which);
      await kitchen.getByLabel("The unit shows").fill("71");
      const stored = kitchen.waitForResponse((answer) => answer.url().endsWith("/readings"));
      await press(kitchen, "Record this");
      entries.push((await (await stored).json()).entry.id);
      await side(kitchen, which.toLowerCase()).getByText("Recorded:").waitFor();
    }
    await kitchen.route("**/voids", (route) => route.abort());
    for (const one of ["left", "right"]) {
      await press(side(kitchen, one), "Undo");
      await side(kitchen, one).getByText("not sent yet.").first().waitFor();
    }
    for (const entry of entries) {
      const undone = await bedroom.evaluate(async ([path, entry]) => {
        const headers = { "Content-Type": "application/json", "Idempotency-Key": `from-the-bedroom-${entry}` };
        return (await fetch(path, { method: "POST", headers, body: JSON.stringify({ entry }) })).status;
      }, [`/api/v1/households/${household}/voids`, entry]);
      assert.equal(undone, 201);
    }
    await kitchen.unroute("**/voids");
    await send_now(kitchen);
    const notice = kitchen.getByRole("alert");
    for (const which of ["Left", "Right"]) {
      await notice.getByText(new RegExp(`^Not recorded: Undo of “${which}.*71 %`)).waitFor();
      await notice.getByText("It was undone before.").waitFor();
      await notice.getByText("Perhaps on another phone of the home.").waitFor();
      if (which === "Left") await kitchen.reload();  // a refusal outlives its page
      await notice.getByText(new RegExp(`^Not recorded: Undo of “${which}.*71 %`)).waitFor();
      await press(notice, "Close");
    }
    await notice.waitFor({ state: "detached" });
  });
});
