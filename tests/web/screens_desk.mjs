// SPDX-License-Identifier: MIT
// Saves the pictures of the planner's desk that README shows, of an invented agency of 300 households, into web/pictures;
// with names as arguments only those.
import { fileURLToPath } from "node:url";
import { start_fake } from "./fake/server.mjs";
import { start_browser } from "./support/browser.mjs";
import { press } from "./support/phone.mjs";
import { open_desk, sign_in_as } from "./support/staff.mjs";
import { evening } from "./support/states.mjs";

const folder = fileURLToPath(new URL("../../web/pictures/", import.meta.url));
const only = process.argv.slice(2);
const at_the_agency = { timezoneId: "Europe/Oslo", deviceScaleFactor: 1, bypassCSP: true };

async function move_a_stop(page) {
  await page.locator(".round-name").nth(3).click();
  await page.getByRole("button", { name: /^Move/ }).first().click();
  await page.locator(".adjust select").selectOption({ index: 6 });
  await press(page, "Show what follows");
  await page.locator(".follows").waitFor();
}

async function recall(page) {
  await press(page, "Recall lot B7");
  await press(page, "Yes, recall it");
  await page.getByRole("button", { name: /^Called/ }).first().click();
  await page.getByText("To call: 5 of 6 homes").waitFor();
}

const pictures = {
  desk_list: { hash: () => "desk", height: 1000 },
  desk_household: { hash: (fake) => `desk?household=${fake.desk.rows.find((row) => row.attention.includes("message")).household}`, height: 1000 },
  desk_plan: { hash: () => "desk/plan", height: 1000, act: move_a_stop },
  desk_short: { hash: () => "desk/short", height: 760, act: (page) => page.getByRole("button", { name: /^What would help/ }).first().click() },
  desk_lots: { hash: () => "desk/lot?lot=B7&item=cells", height: 1000, act: recall },
  desk_dark: { hash: () => "desk", height: 1000, colorScheme: "dark" },
};

const browser = await start_browser();
for (const [name, { hash, height, act, ...look }] of Object.entries(pictures)) {
  if (only.length && !only.includes(name)) continue;
  const fake = await start_fake(() => evening);
  sign_in_as(fake, "planner", "Office");
  const { context, page } = await open_desk(browser, fake, hash(fake), { viewport: { width: 1280, height }, ...at_the_agency, ...look });
  await page.waitForFunction(() => !document.querySelector(".asking"));
  await act?.(page);
  await page.evaluate(() => document.fonts.ready);
  await page.screenshot({ path: `${folder}${name}.png` });
  console.log(`${folder}${name}.png`);
  await context.close();
  await fake.stop();
}
await browser.close();
