// SPDX-License-Identifier: MIT
// Prints how long the planner's list of many invented homes takes: the service's answer for the first view and for all
// rows, a lot's page before and after its recall, and a letter typed in the search with a processor four times slower.  node tests/web/list_speed.mjs [5000]
import { authenticator } from "./support/authenticator.mjs";
import { access_services } from "./support/access_services.mjs";
import { open_phone, start_browser } from "./support/browser.mjs";
import { desk } from "./support/staff.mjs";
import { median, reckoned_ms, told, typing_ms } from "./support/typing.mjs";

const homes = Number(process.argv[2] ?? 5_000);
const slower = 4;
const typed = ["d", "demo-0", "demo-00", "heath", "heath 00", "stop-4", "mills", "", "vale 7", "demo-0099", "bridge"];
const pause = (ms) => new Promise((done) => setTimeout(done, ms));

async function timed(work) {
  const began = performance.now();
  const got = await work();
  return { got, ms: performance.now() - began };
}

async function all_rows(ask) {
  let rows = 0;
  for (let cursor = "0"; cursor !== null; ) {
    const got = await ask("GET", `/board?limit=2000&cursor=${cursor}`);
    rows += got.rows.length;
    cursor = got.next;
  }
  return rows;
}

async function until_computed(ask) {
  for (;;) {
    const { computed, of } = await ask("GET", "/board?limit=1");
    if (computed === of) return;
    console.error(`${computed} of ${of} forecasts`);
    await pause(2_000);
  }
}

async function typing(service) {
  const browser = await start_browser();
  const context = await open_phone(browser, { viewport: desk, deviceScaleFactor: 1 });
  const page = await context.newPage();
  await authenticator(page);
  await page.goto(await service.staff_link("planner"));
  for (const name of ["Sign in this phone", "Make a passkey"]) await page.getByRole("button", { name, exact: true }).click();
  await page.getByRole("checkbox").check();
  await page.getByRole("button", { name: "Go on" }).click();
  await page.getByText(`${homes} of ${homes} households`).waitFor({ timeout: 120_000 });
  const what = { typed, before: "uplands", slower };
  const times = { slowed: await typing_ms(context, page, what), reckoned: await reckoned_ms(context, page, what) };
  await browser.close();
  return times;
}

/// The lot that most sides hold: its page, the list of all, and both again right after its recall, which makes the whole
/// list anew beside the service. Taken back at the end.
async function lot_pages(ask) {
  const { lots } = await ask("GET", "/lots");
  const { lot } = lots.filter((one) => one.item === "cells").sort((a, b) => b.in_sides - a.in_sides)[0];
  const page = async () => (await timed(() => ask("GET", `/lots/one?lot=${encodeURIComponent(lot)}`))).ms;
  const pages = [];
  for (let run = 0; run < 9; run++) pages.push(await page());
  const all = await timed(() => ask("GET", "/lots"));
  const recall = await timed(() => ask("POST", "/lots/recalls", { lot }));
  const { got: recalled, ms } = await timed(() => ask("GET", `/lots/one?lot=${encodeURIComponent(lot)}`));
  const calls = await timed(() => ask("GET", `/lots/recalls/calls?lot=${encodeURIComponent(lot)}`));
  await ask("POST", "/lots/recalls/undo", { lot });
  return `lot ${lot}, in ${recalled.sides.length} sides: its page ${median(pages).toFixed(0)} ms in the middle, ${Math.max(...pages).toFixed(0)} ms at most, of ${pages.length}; all lots ${all.ms.toFixed(0)} ms; recalled in ${recall.ms.toFixed(0)} ms, its page then ${ms.toFixed(0)} ms, with ${recalled.being_made} sides still being made anew, and whom to call ${calls.ms.toFixed(0)} ms`;
}

const { got: service, ms: loaded_ms } = await timed(() => access_services.find(({ name }) => name === "the service").start({ homes }));
const { ms: computed_ms } = await timed(() => until_computed(service.ask));
const first = [];
for (let run = 0; run < 15; run++) first.push((await timed(() => service.ask("GET", "/board?limit=200"))).ms);
const { got: rows, ms: all_ms } = await timed(() => all_rows(service.ask));
const { rows: [{ household }] } = await service.ask("GET", "/board?limit=1");
await service.ask("POST", `/households/${household}/ask`, {});
const anew = await timed(() => service.ask("GET", "/board?limit=200"));
console.log(`${rows} homes loaded in ${(loaded_ms / 1_000).toFixed(0)} s, their forecasts made in ${(computed_ms / 1_000).toFixed(0)} s`);
console.log(`first view, 200 rows: ${median(first).toFixed(0)} ms in the middle, ${Math.max(...first).toFixed(0)} ms at most, of ${first.length}; after something was recorded ${anew.ms.toFixed(0)} ms; all rows ${all_ms.toFixed(0)} ms`);
console.log(await lot_pages(service.ask));
await until_computed(service.ask);
const { slowed, reckoned } = await typing(service);
console.log(`a letter typed, at a quarter of the speed: ${told(slowed)}; reckoned from full speed: ${told(reckoned)}`);
await service.stop();
