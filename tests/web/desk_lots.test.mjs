// SPDX-License-Identifier: MIT
// Lots, tables in and out, and the figures for the agency alone.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { press } from "./support/phone.mjs";
import { at_the_desk } from "./support/staff.mjs";

describe("lots and tables at the desk", () => {
  const there = at_the_desk();
  const { at } = there;

  test("a lot is found, recalled after one more question, its homes are called one by one, and all of it is undone", at("desk/lots", async (page) => {
    await page.getByLabel("Where is lot").fill("B7");
    await press(page, "Show it");
    await page.getByText("20 % less than expected").waitFor();
    await page.getByRole("heading", { name: "On the way to 1 home" }).waitFor();
    await press(page, "Recall lot B7");
    assert.equal(there.fake.desk.lots.recalls.size, 0);
    await press(page, "Yes, recall it");
    await page.getByText("To call: 6 of 6 homes").waitFor();
    await page.getByText(/24 cells on the way there/).waitFor();
    await page.getByRole("button", { name: /^Called/ }).first().click();
    await page.getByText("To call: 5 of 6 homes").waitFor();
    await press(page, "Undo");
    await page.getByText("To call: 6 of 6 homes").waitFor();
    assert.ok((await page.getByRole("link", { name: "This list as a CSV file" }).getAttribute("href")).endsWith("calls.csv?lot=B7&item=cells"));
    await press(page, "The recall was a mistake: take it back");
    await page.getByRole("button", { name: "Recall lot B7" }).waitFor();
    assert.equal(there.fake.desk.lots.recalls.size, 0);
  }));

  test("a number written wrongly is put right once, leads to its lot, and is taken back", at("desk/lots", async (page) => {
    await page.getByLabel("It says").fill("B1");
    await page.getByLabel("It should say").fill("B7");
    await press(page, "Put it right everywhere");
    await page.getByText("also written B1").waitFor();
    await page.evaluate(() => (location.hash = "desk/lot?lot=B1&item=cells"));
    await page.getByRole("heading", { name: "Lot B7" }).waitFor();
    await page.getByText("Asked for as B1").waitFor();
    await page.evaluate(() => (location.hash = "desk/lots"));
    await page.getByRole("button", { name: /Take it back.*B1/ }).click();
    await page.getByText("also written B1").waitFor({ state: "detached" });
  }));

  test("a lot that only the agency's store has, has its line and its page, and is recalled from there", at("desk/lots", async (page) => {
    await page.getByRole("row", { name: /^C9.*In no home now\. 480 in the agency's store\./ }).waitFor();
    await page.getByRole("link", { name: "C9", exact: true }).click();
    await page.getByRole("heading", { name: "Lot C9" }).waitFor();
    await page.getByText("In the agency's store").waitFor();
    await page.getByText("480 cells").waitFor();
    await page.getByText("In no home and in no side, by what was recorded.").waitFor();
    await page.getByRole("button", { name: "Recall lot C9" }).waitFor();
  }));

  test("what did not come of a lot is told with its home, its stop and its round, and that home is told apart on the list to call", at("desk/lot?lot=B7&item=cells", async (page) => {
    const [{ household, stop, round }] = there.fake.desk.lots.one(new URLSearchParams({ lot: "B7" })).body.did_not_come;
    await page.getByRole("heading", { name: "Did not come to 1 home" }).waitFor();
    const line = page.locator(".lines li", { hasText: "said" });
    assert.match(await line.innerText(), new RegExp(`^${household} 12 cells, stop ${stop}, round of `));
    assert.equal(await line.getByRole("link").nth(1).getAttribute("href"), `#desk/round?${new URLSearchParams({ round })}`);
    await page.getByText("Did not come, and written off").waitFor();
    await press(page, "Recall lot B7");
    await press(page, "Yes, recall it");
    await page.locator(".calls li", { hasText: household }).getByText("12 cells that did not come: with the carrier perhaps, or at a neighbour's").waitFor();
    assert.equal(await page.getByText("that did not come: with the carrier").count(), 1);
    await press(page, "The recall was a mistake: take it back");
    await page.getByRole("button", { name: "Recall lot B7" }).waitFor();
  }));

  test("a lot's page waits for no list: sides that are being made anew say so, and have their dates when they are there", at("desk/lots", async (page) => {
    there.fake.desk.lots.being_made = true;
    await page.getByRole("link", { name: "A1", exact: true }).click();
    await page.getByText("The list is being made anew: 3 sides of these have no date here yet.").waitFor();
    assert.equal(await page.getByText("Being made anew.").count(), 3);
    assert.equal(await page.getByText("Expected to last tonight").count(), 0);
    there.fake.desk.lots.being_made = false;
    await page.clock.runFor(4_000);
    await page.getByText("The list is being made anew").waitFor({ state: "detached" });
    await page.getByText(/Change by /).first().waitFor();
  }));

  test("a home whose record cannot be read is named on the lots, on a lot and on its list to call", at("desk/lots", async (page) => {
    const named = page.getByText("Not in here: h-7 and h-9. What was recorded there cannot be read");
    await page.getByRole("link", { name: "B7", exact: true }).waitFor();
    assert.equal(await named.count(), 0);
    there.fake.desk.lots.left_out = ["h-7", "h-9"];
    await page.getByRole("link", { name: "B7", exact: true }).click();
    await named.waitFor();
    await press(page, "Recall lot B7");
    await press(page, "Yes, recall it");
    await page.getByText("To call: 6 of 6 homes").waitFor();
    assert.equal(await named.count(), 2);
    await page.evaluate(() => (location.hash = "desk/lots"));
    await page.getByRole("heading", { name: "Lots", exact: true }).waitFor();
    await named.first().waitFor();
  }));

  test("a lot that nobody knows is said to be unknown", at("desk/lot?lot=ZZ&item=cells", async (page) => {
    await page.getByText("No lot ZZ is known here.").waitFor();
  }));

  const file = (name, lines) => ({ name, mimeType: "text/csv", buffer: Buffer.from(lines.join("\r\n")) });
  const heads = "household,area,zone,changing_times";

  test("a table is tried first: every problem by line and column with the place marked, and nothing stored until it is whole", at("desk/in_out", async (page) => {
    await page.locator("input[type=file]").setInputFiles(file("homes.csv", [heads, "h-1,north,Europe/Oslo,21:30", "h-2,,Europe/Olso,21:30", "h-1,south,Europe/Oslo,07:00"]));
    await press(page, "Try it: nothing is stored");
    await page.getByText("2 mistakes to mend first.").waitFor();
    await page.getByRole("row", { name: /^3\s*homes.csv.*3\s*zone.*There is no zone Europe\/Olso/ }).waitFor();
    assert.equal(await page.locator("mark").first().textContent(), "Europe/Olso");
    assert.equal(await page.getByRole("button", { name: /^Bring in/ }).count(), 0);
    await page.locator("input[type=file]").setInputFiles(file("homes.csv", [heads, "h-1,north,Europe/Oslo,21:30", "h-2,,Europe/Oslo,21:30"]));
    await press(page, "Try it: nothing is stored");
    await page.getByLabel(/Meant so: missing area/).check();
    await press(page, "Bring in 2 households");
    await page.getByText("Brought in: 2 households, 0 counts.").waitFor();
  }));

  test("the calendar's address is shown once, and can be ended", at("desk/in_out", async (page) => {
    await press(page, "Make one");
    await page.getByText("/feeds/rounds/").waitFor();
    await press(page, "End it");
    await page.getByText("There is none.").waitFor();
  }));

  test("what the limit of risk costs is drawn with its names on the lines, and stands in a table too", at("desk/costs", async (page) => {
    const drawn = page.locator("svg.drawing").first();
    for (const name of ["changed", "once a day", "twice a day", "3 times a day", "now: 17\u00a0430"]) await drawn.getByText(name, { exact: true }).waitFor();
    await page.getByText("The same as a table").click();
    assert.equal(await page.locator("details[open] tbody tr").count(), 66);
    await page.getByText("About 24 of 100 parts of the charge").waitFor();
    await page.getByText("Expired in the agency's own store").waitFor();
    await page.getByText("96 cells").waitFor();
  }));

  for (const width of [320, 390, 1280]) {
    test(`at ${width} px no name in the drawing lies on another or outside it, and none is made small`, async () => {
      const { context, page } = await there.open("desk/costs", { viewport: { width, height: 900 } });
      try {
        await page.locator("svg.drawing text").first().waitFor();
        const wrong = await page.locator("svg.drawing").first().evaluate((drawing) => {
          const frame = drawing.getBoundingClientRect();
          const names = [...drawing.querySelectorAll("text")].map((one) => ({ words: one.textContent, box: one.getBoundingClientRect(), size: parseFloat(getComputedStyle(one).fontSize) * (frame.width / drawing.viewBox.baseVal.width) }));
          const meet = (a, b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
          const pairs = names.flatMap((one, at) => names.slice(at + 1).filter((other) => meet(one.box, other.box)).map((other) => `${one.words} on ${other.words}`));
          const outside = names.filter(({ box }) => box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1);
          return [...pairs, ...outside.map((one) => `${one.words} outside`), ...names.filter((one) => one.size < 15).map((one) => `${one.words} of ${one.size} px`)];
        });
        assert.deepEqual(wrong, []);
      } finally {
        await context.close();
      }
    });
  }

  test("figures that are still being computed come by themselves", async () => {
    const { context, page } = await there.open("desk/lots");
    try {
      let asked = 0;
      await page.route("**/costs/waste*", (route) => (asked++ === 0 ? route.fulfill({ status: 202, contentType: "application/json", body: '{"computing":true}' }) : route.continue()));
      await page.evaluate(() => (location.hash = "desk/costs"));
      await page.getByText("computed for the first time today").waitFor();
      await page.getByText("About 24 of 100 parts of the charge").waitFor();
    } finally {
      await context.close();
    }
  });
});
