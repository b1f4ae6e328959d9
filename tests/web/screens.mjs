// SPDX-License-Identifier: MIT
// Saves a picture of every state of the phone page, and of the forms, light and dark, into build/screens.
import { mkdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { start_fake } from "./fake/server.mjs";
import { start_browser } from "./support/browser.mjs";
import { evening, open_state, states } from "./support/states.mjs";

const folder = process.argv[2] ?? fileURLToPath(new URL("../../build/screens/", import.meta.url));
const only = process.argv.slice(3);
mkdirSync(folder, { recursive: true });

const fake = await start_fake(() => evening);
const browser = await start_browser();

async function save(page, name) {
  await page.screenshot({ path: `${folder}/${name}.png` });
  await page.screenshot({ path: `${folder}/${name}_whole.png`, fullPage: true, style: ".disclaimer { position: static !important; }" });
  console.log(`${folder}/${name}.png`);
}

async function open_first_side(page) {
  await page.locator("[data-side=left] .strip").click();
  await page.getByRole("button", { name: /How sure/ }).first().click();
  await page.locator(".u-over").waitFor();
}

async function another_change(page) {
  await page.getByRole("button", { name: "Cells changed" }).click();
  await page.getByRole("radio", { name: "Left" }).check();
  await page.getByRole("radio", { name: "Other cells" }).check();
  await page.getByRole("radio", { name: /rechargeable/ }).check();
}

const opened = {
  opened: ["calm", open_first_side],
  form_change: ["calm", another_change],
  form_reading: ["calm", (page) => page.getByRole("button", { name: "Note a reading" }).click()],
  form_warned: ["calm", (page) => page.getByRole("button", { name: "The unit warned" }).click()],
  form_stock: ["calm", (page) => page.getByRole("button", { name: "Count stock" }).click()],
  form_away: ["calm", (page) => page.getByRole("button", { name: "Going away" }).click()],
  more: ["calm", (page) => page.getByRole("link", { name: "More" }).click()],
};

for (const name of Object.keys(states)) {
  if (only.length && !only.includes(name)) continue;
  const { context, page } = await open_state(browser, fake.base, name, { bypassCSP: true });
  await save(page, name);
  await context.close();
}
for (const [name, [state, act]] of Object.entries(opened)) {
  for (const colorScheme of ["light", "dark"]) {
    if (only.length && !only.includes(name)) continue;
    const { context, page } = await open_state(browser, fake.base, state, { colorScheme, bypassCSP: true });
    await act(page);
    await save(page, `${name}${colorScheme === "dark" ? "_dark" : ""}`);
    await context.close();
  }
}
await browser.close();
await fake.stop();
