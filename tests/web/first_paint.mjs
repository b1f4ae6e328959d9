// SPDX-License-Identifier: MIT
// Prints how soon a phone shows something, and the sentence of a side, on a slow 4G line (150 ms there and back, 1.6 Mbit/s) with a processor
// four times slower: median of five, each on a phone that was never here.  node tests/web/first_paint.mjs
import { access_services } from "./support/access_services.mjs";
import { open_phone, start_browser } from "./support/browser.mjs";

const service = await access_services.find(({ name }) => name === "the service").start();
const browser = await start_browser();
const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

async function measured(household) {
  const context = await open_phone(browser);
  const page = await context.newPage();
  await page.goto(await service.phone_link(household));
  await page.getByRole("button", { name: "Sign in this phone" }).click();
  await page.getByText(/^In the records it is called/).waitFor();
  const devtools = await context.newCDPSession(page);
  await devtools.send("Network.enable");
  await devtools.send("Network.clearBrowserCache");
  await devtools.send("Network.emulateNetworkConditions", { offline: false, latency: 150, downloadThroughput: 1.6e6 / 8, uploadThroughput: 750e3 / 8 });
  await devtools.send("Emulation.setCPUThrottlingRate", { rate: 4 });
  await page.addInitScript(() => {
    new MutationObserver((_, watch) => {
      if (!document.querySelector("[data-side] .sentence")) return;
      watch.disconnect();
      requestAnimationFrame(() => (window.sentence_ms = performance.now()));
    }).observe(document, { childList: true, subtree: true });
  });
  await page.goto(`${service.base}/h/${household}`);
  await page.waitForFunction(() => window.sentence_ms);
  const told = await page.evaluate(() => [performance.getEntriesByName("first-contentful-paint")[0]?.startTime ?? Infinity, window.sentence_ms]);
  await context.close();
  return told;
}

const household = await service.household();
const runs = [];
for (let run = 0; run < 5; run++) runs.push(await measured(household));
console.log(`first paint ${Math.round(median(runs.map(([paint]) => paint)))} ms, a side's sentence ${Math.round(median(runs.map(([, sentence]) => sentence)))} ms`);
await browser.close();
await service.stop();
