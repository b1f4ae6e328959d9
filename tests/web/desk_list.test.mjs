// SPDX-License-Identifier: MIT
// The planner's list: what cannot wait, searching and views, a household beside it, and what is done there with its undo.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { press } from "./support/phone.mjs";
import { at_the_desk } from "./support/staff.mjs";
import { evening } from "./support/states.mjs";

describe("the planner's list", () => {
  const there = at_the_desk({ ready: (page) => page.locator(".who-row").first().waitFor() });
  const { at } = there;
  const found = (page, n) => page.getByText(`${n} of 300 households`, { exact: true }).waitFor();
  const with_attention = (what) => there.fake.desk.rows.filter((row) => row.attention.includes(what));
  const beside = (page) => page.locator(".beside-list");

  test("first stand deliveries without answer, who does not reach its round and who is in no plan, each with how many", at("desk", async (page) => {
    const first = page.getByRole("region", { name: "First" });
    const kinds = await first.getByRole("heading", { level: 3 }).allTextContents();
    assert.deepEqual(kinds, [`Delivery without answer ${with_attention("no_answer").length}`, `Message not seen ${with_attention("message").length}`, `Does not reach its round ${with_attention("does_not_reach").length}`, `Not served in time ${with_attention("cannot_be_served").length}`, `No area yet ${with_attention("no_area").length}`]);
    await first.getByText("An estimate").waitFor({ state: "detached" });
    await page.getByText("An estimate. The unit's own alarm comes first: act on it at once.").waitFor();
  }));

  test("search, area and what is needed narrow the list; a named view is kept on this device and can be forgotten and brought back", at("desk", async (page) => {
    await found(page, 300);
    await page.keyboard.press("/");
    await page.keyboard.type("north");
    const north = there.fake.desk.rows.filter((row) => `${row.household} ${row.area} ${row.next_round?.round}`.includes("north")).length;
    await found(page, north);
    await page.getByLabel("Search").fill("");
    await page.getByLabel("Which").selectOption({ label: "Does not reach its round" });
    await found(page, with_attention("does_not_reach").length);
    await press(page, "Keep this view");
    await page.getByLabel("Name of the view").fill("To call");
    await press(page, "Keep");
    await press(page, "Everything");
    await found(page, 300);
    await page.reload();
    await press(page, "To call");
    await found(page, with_attention("does_not_reach").length);
    await page.getByRole("button", { name: "Forget “To call”" }).click();
    await press(page, "Undo");
    await page.getByRole("button", { name: "To call", exact: true }).waitFor();
  }));

  test("a forecast of more than twelve hours ago is called old, and no window is drawn of it", at("desk", async (page) => {
    const [fresh, old] = there.fake.desk.rows.filter((row) => row.left.tonight && row.right.tonight && !row.attention.length);
    const hours_ago = (hours) => new Date(evening.getTime() - hours * 3_600_000).toISOString();
    const before = [fresh.computed_at, old.computed_at];
    [fresh.computed_at, old.computed_at] = [hours_ago(11.9), hours_ago(12.1)];
    there.fake.desk.version += 1;
    await page.reload();
    for (const [row, windows] of [[fresh, 2], [old, 0]]) {
      await page.getByLabel("Search").fill(row.household);
      await found(page, 1);
      const drawn = page.locator(".who-row", { hasText: row.household });
      assert.equal(await drawn.locator(".no-window").count(), 2 - windows);
      assert.equal(await drawn.locator("small", { hasText: "left: old forecast; right: old forecast" }).count(), windows ? 0 : 1);
    }
    [fresh.computed_at, old.computed_at] = before;
  }));

  test("only rows near the screen are drawn, and the last can be reached", at("desk", async (page) => {
    const drawn = await page.locator(".who-row").count();
    assert.ok(drawn < 120, `${drawn} rows are drawn`);
    await page.getByLabel("Order").selectOption({ label: "Household" });
    for (let step = 0; step < 8; step++) await page.evaluate(() => window.scrollTo(0, document.documentElement.scrollHeight)).then(() => page.waitForTimeout(150));
    await page.locator(".who-row", { hasText: "h-000400" }).waitFor();
    assert.equal(await page.getByRole("table", { name: "Households" }).getAttribute("aria-rowcount"), "301");
  }));

  test("arrows walk the rows, Enter opens a household beside the list, and Escape leads back to its row", at("desk", async (page) => {
    const rows = page.locator("[data-row]");
    await rows.first().focus();
    await page.keyboard.press("ArrowDown");
    const household = await rows.nth(1).textContent();
    await page.keyboard.press("Enter");
    await beside(page).getByRole("heading", { name: household, level: 2 }).waitFor();
    await beside(page).getByText("Expected to last tonight.").first().waitFor();
    await page.keyboard.press("Escape");
    await beside(page).waitFor({ state: "detached" });
    await page.waitForFunction((name) => document.activeElement?.textContent === name, household);
  }));

  test("a message is seen by a button, the home reads when, and it can be undone", async () => {
    const { household } = with_attention("message")[0];
    await at(`desk?household=${household}`, async (page) => {
      await press(page, "Seen: tell the home");
      await beside(page).getByText(/seen by the agency at \d\d:\d\d/).waitFor();
      assert.ok(there.fake.desk.row(household).messages[0].seen_at);
      await press(page, "Undo");
      await beside(page).getByText("not seen. Call").waitFor();
    })();
  });

  test("a delivery without an answer is answered by telephone, and leaves the first list", async () => {
    const { household } = with_attention("no_answer")[0];
    await at(`desk?household=${household}`, async (page) => {
      await press(page, "The home says: all received");
      await page.getByText("was received. It counts as stock now.").waitFor();
      assert.deepEqual(there.fake.desk.row(household).deliveries, []);
    })();
  });

  test("a delivery that came in part is recorded as it came: fewer pieces, another lot, something beside it", async () => {
    const { household, deliveries } = with_attention("no_answer")[0];
    await at(`desk?household=${household}`, async (page) => {
      await press(page, "The home says: received in part");
      const record = page.getByRole("button", { name: "Record what came" });
      const pieces = page.getByLabel("Pieces that came");
      await record.waitFor();
      const planned = await pieces.count();
      for (let line = 0; line < planned; line++) await pieces.nth(line).fill("0");
      await page.getByText("Nothing of it came?").waitFor();
      assert.equal(await record.isDisabled(), true);
      await pieces.first().fill("7");
      await page.getByLabel("Lot").first().fill("Z9");
      assert.equal(await page.getByLabel("Expires").first().inputValue(), "");
      await press(page, "Add another lot or item");
      await page.getByLabel("Item").last().fill("tape");
      await pieces.last().fill("2");
      await record.click();
      await page.getByText("It counts as stock now.").waitFor();
    })();
    const { household: whose, round, answer, lines } = there.fake.desk.received.at(-1);
    assert.deepEqual([whose, round, answer], [household, deliveries[0].round, "received"]);
    assert.equal(lines.length, 2);
    assert.deepEqual([lines[0].lot, lines[0].pieces, lines[0].expires, lines[1]], ["Z9", 7, undefined, { item: "tape", pieces: 2 }]);
  });

  test("how much a home keeps is recorded with its place in the rounds, and stays when the area changes", async () => {
    const { household, area } = there.fake.desk.rows.find((row) => row.area && row.items.some((one) => one.item === "cells") && !row.attention.length);
    await at(`desk?household=${household}`, async (page) => {
      await press(page, "Change it");
      await page.getByLabel("The home keeps at most (cells)").fill("48");
      await press(page, "Keep this");
      await beside(page).getByText("It keeps at most 48 cells").waitFor();
      await press(page, "Change it");
      await page.getByLabel("Area", { exact: true }).last().fill("hills");
      await press(page, "Keep this");
      await page.getByText(`${household} is in hills now.`).waitFor();
    })();
    assert.deepEqual(there.fake.desk.storage.get(household), [{ item: "cells", pieces: 48 }]);
    there.fake.desk.change(household, { area });
  });

  test("times are told by the agency's clock, wherever the browser stands", async () => {
    const told = async (timezoneId) => {
      const { context, page } = await there.open("desk", { timezoneId });
      try {
        await page.locator(".who-row").first().waitFor();
        return await page.getByText(/^As of /).innerText();
      } finally {
        await context.close();
      }
    };
    const clock = new Intl.DateTimeFormat("en-GB", { timeZone: "Europe/Oslo", hour: "2-digit", minute: "2-digit" }).format(evening);
    for (const zone of ["America/Lima", "Pacific/Auckland"]) assert.ok((await told(zone)).startsWith(`As of today ${clock}.`), zone);
  });

  test("that a home was asked for a count is noted, and can be undone", at("desk", async (page) => {
    await page.getByLabel("Which").selectOption({ label: "The last count is old" });
    const row = page.locator(".who-row").first();
    await row.getByRole("button", { name: /^Ask/ }).click();
    await row.getByText("Asked today").waitFor();
    await press(page, "Undo");
    await row.getByRole("button", { name: /^Ask/ }).waitFor();
  }));

  test("closing a household is asked about once more, says what comes back, and can be undone", async () => {
    const { household, next_round } = there.fake.desk.rows[60];
    there.fake.desk.change(household, { deliveries: [{ ...next_round, state: "planned", since: evening.toISOString() }] });
    await at(`desk?household=${household}`, async (page) => {
      await press(page, "It moved, or the wearer died");
      await page.getByRole("alert").getByText("unit u-1").waitFor();
      await press(page, "Yes, close it");
      await beside(page).getByText("no reminders, no stops").waitFor();
      await beside(page).getByText(/^Stops that ended: .+\.$/).waitFor();
      assert.ok(there.fake.desk.row(household).closed_at);
      await press(page, "Undo");
      await page.getByText("is open again").waitFor();
      assert.equal(there.fake.desk.row(household).closed_at, null);
    })();
  });

  test("without the service the list says so, and what stands there stays", at("desk", async (page) => {
    await page.route("**/board*", (route) => route.abort());
    await page.evaluate(() => document.dispatchEvent(new Event("visibilitychange")));
    await page.getByText("The service cannot be reached.").waitFor();
    assert.ok((await page.locator(".who-row").count()) > 0);
  }));

  test("an agency without households is told where they come from", async () => {
    const before_that = there.fake.desk.rows;
    there.fake.desk.rows = [];
    const { context, page } = await there.open("desk");
    try {
      await page.getByText("No household is kept yet.").waitFor();
    } finally {
      there.fake.desk.rows = before_that;
      await context.close();
    }
  });
});
