// SPDX-License-Identifier: MIT
// What came of a planned delivery: all, a part, or nothing; it is stock once, by that answer alone, also where the plain form
// is opened first, the answer is given without a signal, or it is taken back.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { objections } from "./support/axe.mjs";
import { on_the_evening, with_each_service } from "./support/journey.mjs";
import { choose, press, send_now, stock } from "./support/phone.mjs";
import { ask } from "./support/services.mjs";
import { enlarge_text } from "./support/states.mjs";

const agency = (page) => page.locator("[data-agency]");

with_each_service("deliveries with", ({ phone, service }) => {
  const of_home = (household, what) => ask(service().base, "GET", `/households/${household}/${what}`);
  const state_of = async (household) => (await of_home(household, "messages")).deliveries[0].state;
  const pieces = async (household) => Object.fromEntries((await of_home(household, "forecast")).stock.map(({ item, quantity }) => [item, quantity]));
  const sum_of = (lines, times = 1) => lines.reduce((sum, { item, pieces: more }) => ({ ...sum, [item]: (sum[item] ?? 0) + more * times }), {});
  const with_more = (before, more) => Object.fromEntries(Object.keys({ ...before, ...more }).map((item) => [item, (before[item] ?? 0) + (more[item] ?? 0)]));

  const expecting = (work) => () =>
    phone(async (page) => {
      const household = await service().expecting();
      await service().let_in(page, household);
      await page.goto(`${service().base}/h/${household}`);
      await agency(page).getByText(/^A delivery is on its way, planned for /).waitFor();
      const [{ lines }] = (await of_home(household, "messages")).deliveries;
      await work(page, { household, lines, before: await pieces(household) });
    });

  const open_form = async (page) => {
    await press(agency(page), /^Say what came of the delivery of /);
    await page.getByRole("heading", { name: /^Delivery of / }).waitFor();
  };

  test("all of it is stock at once, and taken back it is open again and no stock", expecting(async (page, { household, lines, before }) => {
    await open_form(page);
    assert.equal(await page.locator("main input:checked").count(), 0);
    await press(page, "Record this");
    await page.locator("#field-answer .error").getByText("Choose what came of it.").waitFor();
    await choose(page, "All of it came");
    await press(page, "Record this");
    await stock(page).getByText(/^Recorded: Delivery of .*: all came$/).waitFor();
    await agency(page).waitFor({ state: "detached" });
    assert.equal(await state_of(household), "received");
    assert.deepEqual(await pieces(household), with_more(before, sum_of(lines)));
    await press(stock(page), "Undo");
    await agency(page).getByText(/^A delivery is on its way/).waitFor();
    assert.equal(await state_of(household), "left");
    assert.deepEqual(await pieces(household), before);
  }));

  test("of a part only what was counted is stock", expecting(async (page, { household, before }) => {
    await open_form(page);
    await choose(page, "Only a part came, or another number");
    const counts = page.getByLabel(/how many single pieces came\?/);
    await counts.first().waitFor();
    for (const count of await counts.all()) await count.fill("0");
    await press(page, "Record this");
    await page.locator("#field-answer .error").getByText("Nothing came? Then choose “It did not come”.").waitFor();
    const tape = page.getByLabel(/^Tape.*how many single pieces came\?/).first();
    await tape.fill("2.5");
    await press(page, "Record this");
    await page.getByText("To mend: Write a whole number of single pieces, 0 or more.").waitFor();
    await tape.fill("2");
    await press(page, "Record this");
    await stock(page).getByText(/^Recorded: Delivery of .*: came in part$/).waitFor();
    assert.deepEqual(await pieces(household), with_more(before, { tape: 2 }));
  }));

  test("what did not come is no stock, and the agency reads it", expecting(async (page, { household, before }) => {
    await open_form(page);
    await choose(page, "It did not come");
    await page.getByText(/Nothing is added to the stock, and the agency reads that it did not come\.$/).waitFor();
    await press(page, "Record this");
    await agency(page).getByText(/^Recorded: Delivery of .*: did not come$/).waitFor();
    assert.equal(await state_of(household), "not_received");
    assert.deepEqual(await pieces(household), before);
    await press(agency(page), "Undo");
    await agency(page).getByText(/^A delivery is on its way/).waitFor();
  }));

  test("the plain form leads to the delivery first, so that nothing is counted twice", expecting(async (page, { household, lines, before }) => {
    await press(page, "Count stock");
    await choose(page, "Arrived");
    await page.getByText("A delivery is planned. Is that what came?").waitFor();
    assert.equal(await page.getByLabel(/How many/).count(), 0);
    await press(page, "No, it came another way");
    await page.getByLabel(/How many/).waitFor();
    await press(page, "Back");
    await press(page, "Count stock");
    await choose(page, "Arrived");
    await press(page, /^It is the delivery of /);
    await page.getByRole("heading", { name: /^Delivery of / }).waitFor();
    await choose(page, "All of it came");
    await press(page, "Record this");
    await stock(page).getByText(/^Recorded: Delivery of .*: all came$/).waitFor();
    assert.deepEqual(await pieces(household), with_more(before, sum_of(lines)));
  }));

  test("an answer without a signal is kept, and sent once", expecting(async (page, { household, lines, before }) => {
    await page.route("**/delivery-answers", (route) => route.abort());
    await open_form(page);
    await choose(page, "All of it came");
    await press(page, "Record this");
    await stock(page).getByText(/^Delivery of .*: all came, not sent yet\.$/).waitFor();
    await page.unroute("**/delivery-answers");
    await send_now(stock(page));
    await stock(page).getByText(/^Recorded: Delivery of .*: all came$/).waitFor();
    assert.deepEqual(await pieces(household), with_more(before, sum_of(lines)));
  }));
});

describe("deliveries on the first screen", () => {
  const { reading } = on_the_evening();
  const on_its_way = "delivery?round=north+2026-11-24";
  const go = async (page, hash, heading) => {
    await page.evaluate((to) => (location.hash = to), hash);
    await page.getByRole("heading", { name: heading }).waitFor();
  };

  test("each is told as it stands, with one button of its own", reading("expecting", async (page) => {
    for (const words of ["A delivery was to come on Sat 21 Nov: 24 cells, 5 tape. Has it come?", "A delivery is on its way, planned for Tue 24 Nov: 24 cells, 5 tape.", "Delivery planned for Wed 2 Dec: 24 cells, 5 tape."]) await agency(page).getByText(words, { exact: true }).waitFor();
    const names = await agency(page).getByRole("button").allTextContents();
    assert.deepEqual(names, ["Sat 21 Nov", "Tue 24 Nov", "Wed 2 Dec"].map((day) => `Say what came of the delivery of ${day}`));
  }));

  test("one that was answered on another phone is not asked again", reading("bringing-twice", async (page) => {
    await go(page, on_its_way, "Delivery of Tue 24 Nov");
    await page.evaluate(async () => {
      const headers = { "Content-Type": "application/json", "Idempotency-Key": "another-phone" };
      await fetch("/api/v1/households/bringing-twice/delivery-answers", { method: "POST", headers, body: JSON.stringify({ round: "north 2026-11-24", answer: "received" }) });
      window.dispatchEvent(new Event("online"));
    });
    await page.getByText(/^This delivery is not open any more/).waitFor();
  }));

  test("in Spanish, with the lots that were planned", reading("bringing-es", async (page) => {
    await press(agency(page), "Decir qué llegó de la entrega del mar 24 nov");
    await page.getByText("Previsto: 16 pilas, lote 9C; 8 pilas, lote 9D; 5 rollos de cinta.").waitFor();
    await choose(page, /^Llegó solo una parte/);
    await page.getByLabel(/^Pilas, lote 9C/).fill("4");
    await page.getByText(/^Entrega del mar 24 nov: llegó en parte: 4 pilas, lote 9C; 8 pilas, lote 9D; 5 rollos de cinta\./).waitFor();
    await press(page, "Registrar esto");
    await stock(page).getByText(/^Registrado: Entrega del mar 24 nov: llegó en parte$/).waitFor();
  }, { locale: "es-ES" }));

  test("one is answered by keyboard alone", reading("bringing-keys", async (page) => {
    await page.getByRole("button", { name: "Say what came of the delivery of Tue 24 Nov" }).press("Enter");
    await page.getByRole("radio", { name: "All of it came" }).press("Space");
    await page.getByText(/It counts as stock from now on\.$/).waitFor();
    await page.getByRole("button", { name: "Record this" }).press("Enter");
    await stock(page).getByText(/^Recorded: Delivery of Tue 24 Nov: all came$/).waitFor();
  }));

  test("in the plain form the focus goes on to what is asked next", reading("bringing-focus", async (page) => {
    await press(page, "Count stock");
    await choose(page, "Arrived");
    await page.getByRole("button", { name: "No, it came another way" }).press("Enter");
    await page.waitForFunction(() => document.activeElement?.name === "item");
  }));

  const phones = { light: {}, dark: { colorScheme: "dark" }, "320 px": { viewport: { width: 320, height: 568 } } };
  for (const [what, options] of Object.entries(phones)) {
    for (const percent of [100, 200]) {
      test(`axe finds nothing and all fits, ${what}, ${percent} %`, reading("expecting", async (page) => {
        await enlarge_text(page, percent);
        const look = async (where) => {
          assert.deepEqual((await objections(page)).map((one) => `${where}: ${one}`), []);
          assert.ok((await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)) <= 0, `${where} is too wide`);
        };
        await agency(page).getByText("Delivery planned for Wed 2 Dec: 24 cells, 5 tape.").waitFor();
        await look("first screen");
        await go(page, on_its_way, "Delivery of Tue 24 Nov");
        await choose(page, "Only a part came, or another number");
        await page.getByLabel(/^Cells, lot 9C/).waitFor();
        await look("delivery");
        await go(page, "stock", "Count stock");
        await choose(page, "Arrived");
        await page.getByText("A delivery is planned. Is that what came?").waitFor();
        await look("stock");
      }, options));
    }
  }
});
