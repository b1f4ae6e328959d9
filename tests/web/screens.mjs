// SPDX-License-Identifier: MIT
// Saves a picture of every state of the phone page, and of the forms, light and dark, into build/screens.
import { mkdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { start_fake } from "./fake/server.mjs";
import { start_browser } from "./support/browser.mjs";
import { evening, open_state, states } from "./support/states.mjs";

const folder = process.argv[2] ?? fileURLToPath(new URL("../../build/screens/", import.meta.url));
const only = process.argv.slice(3);
const width = Number(process.env.WIDTH ?? 390);
mkdirSync(folder, { recursive: true });

const fake = await start_fake(() => evening);
const browser = await start_browser();

async function save(page, name) {
  await page.screenshot({ path: `${folder}/${name}.png` });
  await page.screenshot({ path: `${folder}/${name}_whole.png`, fullPage: true, style: ".foot, .help { position: static !important; }" });
  console.log(`${folder}/${name}.png`);
}

async function open_first_side(page) {
  await page.locator("[data-side=left] .strip").click();
  await page.getByRole("button", { name: /How sure/ }).first().click();
  await page.locator(".u-over").waitFor();
}

async function another_change(page) {
  await page.getByRole("button", { name: "Cells changed", exact: true }).click();
  await page.getByRole("radio", { name: "Left" }).check();
  await page.getByRole("radio", { name: "Other cells" }).check();
  await page.getByRole("radio", { name: /rechargeable/ }).check();
}

async function recorded(page) {
  await page.getByRole("button", { name: "Note a reading" }).click();
  await page.getByRole("radio", { name: "Left" }).check();
  await page.getByLabel("The unit shows").fill("71");
  await page.getByRole("button", { name: "Record this" }).click();
  await page.getByText("Recorded:").first().waitFor();
}

async function list_entries(page) {
  await recorded(page);
  await page.getByRole("button", { name: "What was recorded" }).click();
  await page.getByRole("listitem").first().waitFor();
}

async function pack(page) {
  await page.getByRole("button", { name: "Going away" }).click();
  await page.getByLabel("Leaving on").fill("2026-12-10");
  await page.getByLabel("Back on").fill("2026-12-15");
  await page.getByRole("button", { name: /say what to pack/ }).click();
  await page.locator(".packing").waitFor();
}

async function not_due(page) {
  await page.getByRole("button", { name: "Cells changed", exact: true }).click();
  await page.getByRole("radio", { name: "Left" }).check();
  await page.getByRole("radio", { name: /Lot 7Q/ }).check();
  await page.getByRole("button", { name: "Record this" }).click();
  await page.getByText("is not due").waitFor();
}

const open_plans = (page) => page.getByRole("button", { name: /What is planned/ }).click();

async function plan_form(page, name) {
  await open_plans(page);
  await page.getByRole("button", { name }).click();
}

async function infection(page) {
  await plan_form(page, /Paced more for now/);
  await page.getByRole("radio", { name: "Both" }).check();
  await page.getByRole("radio", { name: "All day" }).check();
  await page.getByLabel(/Amplitude/).fill("4.6");
  await page.getByRole("heading", { name: "Will be recorded" }).waitFor();
}

async function growing(page) {
  await plan_form(page, /Pacing that grows/);
  await page.getByRole("radio", { name: "Left" }).check();
  await page.getByRole("button", { name: /Fill in what is recorded/ }).click();
  await page.getByLabel("Longer each week by").fill("60");
  await page.getByLabel("Until a day has").fill("9");
  await page.getByRole("button", { name: "Record this" }).click();
  await page.getByText("already has").waitFor();
}

async function side_by_side(page, side = "Left") {
  await plan_form(page, /With other settings/);
  await page.getByRole("radio", { name: side }).check();
  await page.getByRole("radio", { name: "Another cell" }).check();
  await page.getByLabel("Type of the cells").selectOption("lr6-family");
  await page.getByRole("button", { name: "Work it out" }).click();
  await page.getByRole("heading", { name: "What follows" }).waitFor();
}

async function home_from_hospital(page) {
  await page.getByRole("button", { name: "Back home" }).click();
  await page.getByRole("radio", { name: "Fresh ones" }).first().check();
}

const opened = {
  plans: ["planned", open_plans],
  plans_none: ["calm", open_plans],
  paced_more: ["calm", infection],
  growing: ["calm", growing],
  side_by_side: ["calm", side_by_side],
  fever: ["fever", async () => undefined],
  over: ["fever", (page) => page.getByRole("button", { name: "No, it is over" }).first().click()],
  hospital: ["hospital", async () => undefined],
  back_home: ["hospital", home_from_hospital],
  after_hospital: ["back", async () => undefined],
  asking: ["asking", async () => undefined],
  travelling: ["travelling", async () => undefined],
  form_visit: ["calm", (page) => plan_form(page, /A visit/)],
  form_unit: ["calm", (page) => plan_form(page, /The unit changes/)],
  form_hospital: ["calm", (page) => plan_form(page, /In hospital/)],
  recorded: ["calm-recorded", recorded],
  entries: ["calm-entries", list_entries],
  packing: ["calm-packing", pack],
  not_due: ["calm", not_due],
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
    const { context, page } = await open_state(browser, fake.base, "calm", { household: `${state}-${name}-${colorScheme}`, colorScheme, bypassCSP: true, viewport: { width, height: 844 } });
    await act(page);
    await save(page, `${name}${colorScheme === "dark" ? "_dark" : ""}`);
    await context.close();
  }
}
await browser.close();
await fake.stop();
