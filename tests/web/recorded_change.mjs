// SPDX-License-Identifier: MIT
// Prints how long the page's main thread works while a change is recorded, from the press of the button until the page rests
// again on a slow 4G line with a processor four times slower: median of five.  node tests/web/recorded_change.mjs
import { setTimeout as pause } from "node:timers/promises";
import { access_services } from "./support/access_services.mjs";
import { open_phone, start_browser } from "./support/browser.mjs";

const service = await access_services.filter(({ there }) => there).at(-1).start();
const browser = await start_browser();
const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

async function worked_ms(devtools) {
  const { metrics } = await devtools.send("Performance.getMetrics");
  return 1000 * metrics.find(({ name }) => name === "TaskDuration").value;
}

async function measured(household) {
  const context = await open_phone(browser);
  context.setDefaultTimeout(120_000);
  const page = await context.newPage();
  await page.goto(await service.phone_link(household));
  await page.getByRole("button", { name: "Sign in this phone" }).click();
  await page.getByRole("button", { name: "Open the page of the home" }).click();
  await page.locator("[data-stock]").waitFor();
  const devtools = await context.newCDPSession(page);
  await devtools.send("Performance.enable", { timeDomain: "threadTicks" });  // its own processor time, whatever else the machine does
  await devtools.send("Network.enable");
  await devtools.send("Network.emulateNetworkConditions", { offline: false, latency: 150, downloadThroughput: 1.6e6 / 8, uploadThroughput: 750e3 / 8 });
  await devtools.send("Emulation.setCPUThrottlingRate", { rate: 4 });
  await page.getByLabel("What to record").getByRole("button", { name: "Cells changed" }).click();
  await page.getByRole("radio", { name: "Left" }).check();
  const record = page.getByRole("button", { name: "Record this" });
  await record.scrollIntoViewIfNeeded();
  const { x, y, width, height } = await record.boundingBox();
  await pause(500);
  const before = await worked_ms(devtools);
  await page.mouse.click(x + width / 2, y + height / 2);
  await pause(4_000);  // nothing looks at the page meanwhile: looking is work on its main thread too
  const after = await worked_ms(devtools);
  await page.locator("[data-side=left] .note").first().waitFor();  // the side is due: nothing was asked once more
  await context.close();
  return after - before;
}

const runs = [];
for (let run = 0; run < 5; run++) runs.push(await measured(await service.household()));
console.log(`a recorded change: ${Math.round(median(runs))} ms of work on the main thread (asked: under 100 ms), from ${Math.round(Math.min(...runs))} to ${Math.round(Math.max(...runs))} ms`);
await browser.close();
await service.stop();
