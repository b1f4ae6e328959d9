// SPDX-License-Identifier: MIT
// Saves the pictures of the phone's pages that README shows, of invented households, into web/pictures: the first view by day
// and in the dark beside each other, in Spanish, with text of 200 %, and the form that is filled in most.
//   node tests/web/screens_phone.mjs
import { fileURLToPath } from "node:url";
import { start_fake } from "./fake/server.mjs";
import { phone, start_browser } from "./support/browser.mjs";
import { evening, open_state } from "./support/states.mjs";

const folder = fileURLToPath(new URL("../../web/pictures/", import.meta.url));
const fake = await start_fake(() => evening);
const browser = await start_browser();

async function fill_in_a_change(page) {
  await page.getByRole("button", { name: "Cells changed", exact: true }).click();
  await page.getByRole("radio", { name: "Left" }).check();
  await page.getByRole("radio", { name: /Lot 7Q/ }).check();
}

async function tell_the_agency(page) {
  await page.getByRole("button", { name: "Tell the agency", exact: true }).click();
  await page.getByRole("radio", { name: "We are running short" }).check();
  await page.getByRole("textbox", { name: /^A note/ }).fill("Two packs of cells and no tape.");
}

const pictures = {
  phone_spanish: ["due", { locale: "es-ES" }],
  phone_large_text: ["large_text", {}],
  phone_change: ["calm", { household: "calm-form" }, fill_in_a_change],
  phone_message: ["calm", { household: "calm-message" }, tell_the_agency],
};

async function picture(state, more, act, options) {
  const { context, page } = await open_state(browser, fake.base, state, { deviceScaleFactor: 1, ...more });
  await act?.(page);
  const png = await page.screenshot(options);
  await context.close();
  return png;
}

async function by_day_and_in_the_dark(path) {
  const both = [await picture("due", { colorScheme: "light" }), await picture("due", { colorScheme: "dark" })];
  const page = await browser.newPage({ viewport: { width: 2 * phone.width, height: phone.height } });
  const images = both.map((png) => `<img src="data:image/png;base64,${png.toString("base64")}">`);
  await page.setContent(`<body style="margin: 0; display: flex">${images.join("")}</body>`);
  await page.screenshot({ path });
  await page.close();
}

await by_day_and_in_the_dark(`${folder}/phone.png`);
for (const [name, [state, more, act]] of Object.entries(pictures)) await picture(state, more, act, { path: `${folder}/${name}.png` });
for (const name of ["phone", ...Object.keys(pictures)]) console.log(`web/pictures/${name}.png`);
await browser.close();
await fake.stop();
