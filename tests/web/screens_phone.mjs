// SPDX-License-Identifier: MIT
// Saves the pictures of the phone's pages that README shows, of invented households, into web/pictures: what can be seen
// in the first view in Spanish and with text of 200 %, and the form that is filled in most.
//   node tests/web/screens_phone.mjs
import { fileURLToPath } from "node:url";
import { start_fake } from "./fake/server.mjs";
import { start_browser } from "./support/browser.mjs";
import { evening, open_state } from "./support/states.mjs";

const folder = fileURLToPath(new URL("../../web/pictures/", import.meta.url));
const fake = await start_fake(() => evening);
const browser = await start_browser();

async function fill_in_a_change(page) {
  await page.getByRole("button", { name: "Cells changed", exact: true }).click();
  await page.getByRole("radio", { name: "Left" }).check();
  await page.getByRole("radio", { name: /Lot 7Q/ }).check();
}

const pictures = {
  phone_spanish: ["due", { locale: "es-ES" }],
  phone_large_text: ["large_text", {}],
  phone_change: ["calm", { household: "calm-form" }, fill_in_a_change],
};

for (const [name, [state, more, act]] of Object.entries(pictures)) {
  const { context, page } = await open_state(browser, fake.base, state, { deviceScaleFactor: 1, ...more });
  await act?.(page);
  await page.screenshot({ path: `${folder}/${name}.png` });
  console.log(`web/pictures/${name}.png`);
  await context.close();
}
await browser.close();
await fake.stop();
