// SPDX-License-Identifier: MIT
// Prints how long the page's main thread works while a change is recorded, from the touch of the button until the page rests
// again, on a slow 4G line with a processor four times slower: median of nine. It is the thread's own processor time. Beside it
// the same of a processor that is not slowed: other work on the machine lengthens what the browser adds to slow it down.
// node tests/web/recorded_change.mjs
import { setTimeout as pause } from "node:timers/promises";
import { access_services } from "./support/access_services.mjs";
import { open_bare_page, start_bare_browser } from "./support/bare_page.mjs";
import { slow_line } from "./support/slow_line.mjs";

const asked_ms = 100;
const slower = 4;
const runs = 9;
const rests_ms = 2_500;  // the page fetches the parts behind it one after the other: none of that is a record's work
const watched_ms = 3_500;

const service = await access_services.filter(({ there }) => there).at(-1).start();
const line = await slow_line(service.base);
const browser = start_bare_browser();

const requests_of = (page) => page.evaluate("performance.getEntriesByType('resource').length");

async function counted(page) {
  const { metrics } = await page.tell("Performance.getMetrics");
  const of = Object.fromEntries(metrics.map(({ name, value }) => [name, value]));
  return { work_ms: 1000 * of.TaskDuration, layouts: of.LayoutCount, styles: of.RecalcStyleCount };
}

async function measured(slowed) {
  const page = await open_bare_page(browser);
  await page.go_to(line.through(await service.phone_link(await service.household())));
  await page.press("Sign in this phone");
  await page.press("Open the page of the home");
  await page.until("document.querySelector('[data-stock]')");
  await page.until(`performance.now() - Math.max(...performance.getEntriesByType('resource').map((one) => one.responseEnd)) > ${rests_ms}`);
  await page.press("Cells changed");
  await page.until("document.querySelector('input[value=right]')");
  await page.evaluate("document.querySelector('input[value=right]').click()");
  const place = await page.middle_of("Record this");
  await page.tell("Emulation.setCPUThrottlingRate", { rate: slowed });
  await page.tell("Performance.enable", { timeDomain: "threadTicks" });
  const requests = await requests_of(page);
  await pause(500);
  const before = await counted(page);
  await page.touch(place);
  await pause(watched_ms);  // nothing looks at the page meanwhile: looking is work on its main thread too
  const after = await counted(page);
  await page.until("document.querySelector('[data-side=right] .note.recorded')");  // the side is due: nothing was asked once more
  const found = { requests: (await requests_of(page)) - requests };
  for (const name of Object.keys(before)) found[name] = after[name] - before[name];
  await page.close();
  return found;
}

const found = { [slower]: [], 1: [] };
for (let run = 0; run < runs; run++) for (const slowed of [slower, 1]) found[slowed].push(await measured(slowed));
const sorted = (slowed, what) => found[slowed].map((one) => one[what]).sort((a, b) => a - b);
const median = (slowed, what) => sorted(slowed, what)[Math.floor(runs / 2)];
const spread = (slowed) => [0, runs - 1].map((at) => sorted(slowed, "work_ms")[at].toFixed(slowed === 1 ? 1 : 0)).join(" to ");
console.log(`a recorded change: ${Math.round(median(slower, "work_ms"))} ms of work on the main thread (asked: under ${asked_ms} ms), from ${spread(slower)} ms`);
console.log(`not slowed: ${median(1, "work_ms").toFixed(1)} ms, from ${spread(1)} ms; ${median(1, "layouts")} layouts, ${median(1, "styles")} times style, requests: ${median(1, "requests")}`);
await browser.stop();
line.stop();
await service.stop();
process.exit(0);  // the line's connections are kept alive
