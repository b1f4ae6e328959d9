// SPDX-License-Identifier: MIT
// Saves pictures of the technician's bench against the stand-in: into the folder that is given, else into build/screens/bench.
import { mkdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { start_fake } from "./fake/server.mjs";
import { start_browser } from "./support/browser.mjs";
import { open_desk, sign_in_as } from "./support/staff.mjs";
import { evening } from "./support/states.mjs";

const folder = process.argv[2] ?? fileURLToPath(new URL("../../build/screens/bench/", import.meta.url));
mkdirSync(folder, { recursive: true });
const wide = { width: 1440, height: 900 };
const table = "current_mA\tcutoff_V\thours\n25\t0.9\t104\n100\t0.9\t23.2\n250\t1.8\tseven\n500\t0.9\t2.9";

async function paste_table(page) {
  await page.getByLabel("Its name in the records").fill("lr6-sample");
  await page.getByLabel("Title of the source").fill("An invented sheet");
  await page.getByLabel("The table, as it was copied").fill(table);
  await page.getByRole("button", { name: "Read it" }).click();
  await page.locator(".problems").waitFor();
}

const side = "bench/side?household=h-0142&side=left";
const drawn = (page) => page.locator(".drawing .u-over").nth(2).waitFor();
const pictures = {
  bench_findings: { hash: "bench" },
  bench_finding: { hash: "bench/finding?id=use/h-0142/left/2026-11-19T20:31:00Z" },
  bench_side: { hash: side, options: { viewport: wide }, then: drawn },
  bench_side_dark: { hash: side, options: { viewport: wide, colorScheme: "dark" }, then: drawn },
  bench_unit: { hash: "bench/unit?serial=u-31" },
  bench_wear: { hash: "bench/wear" },
  bench_table: { hash: "bench/cell", then: paste_table },
  bench_proposal: { hash: "bench/proposal?number=9" },
  bench_findings_320: { hash: "bench", options: { viewport: { width: 320, height: 640 } } },
  bench_side_320_dark: { hash: side, options: { viewport: { width: 320, height: 640 }, colorScheme: "dark" }, then: drawn },
};
const only = process.argv.slice(3);

const browser = await start_browser();
for (const [name, { hash, options, then }] of Object.entries(pictures)) {
  if (only.length && !only.includes(name)) continue;
  const fake = await start_fake(() => evening, { locked: true });
  sign_in_as(fake, "technician");
  const { context, page } = await open_desk(browser, fake, hash, { bypassCSP: true, ...options });
  await page.getByText("Asking…").waitFor({ state: "detached" });
  await then?.(page);
  await page.screenshot({ path: `${folder}/${name}.png`, fullPage: true, style: ".foot { position: static !important; }" });
  console.log(`${folder}/${name}.png`);
  await context.close();
  await fake.stop();
}
await browser.close();
