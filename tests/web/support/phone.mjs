// SPDX-License-Identifier: MIT
// One browser for a file of tests, a fresh phone for each, closed whatever happens.
import { after, before } from "node:test";
import { open_phone, start_browser } from "./browser.mjs";
import { language_of_the_run } from "./languages.mjs";

export function phones() {
  let browser;
  before(async () => {
    browser = await start_browser();
  });
  after(() => browser?.close());
  return async (work, options) => {
    const context = await open_phone(browser, { ...options, ...language_of_the_run?.options });
    await language_of_the_run?.speak(context);
    context.setDefaultTimeout(30_000);
    const page = await context.newPage();
    const faults = [];
    page.on("pageerror", (error) => faults.push(error.message));
    page.on("console", (message) => message.type() === "error" && /Content Security|Refused/.test(message.text()) && faults.push(message.text()));
    try {
      await work(page, browser);
      if (faults.length) throw new Error(`the page reported: ${faults.join("; ")}`);
    } catch (error) {
      // What was waited for in vain often follows from it: it is said beside.
      if (faults.length && !error.message.startsWith("the page reported")) error.message += `; the page reported: ${faults.join("; ")}`;
      throw error;
    } finally {
      await context.close();
    }
  };
}

export const side = (page, name) => page.locator(`[data-side=${name}]`);
export const stock = (page) => page.locator("[data-stock]");
export const press = (within, name) => within.getByRole("button", { name, exact: typeof name === "string" }).click();
/// Sends what waits. The page tries again by itself too, after two seconds and more: what went meanwhile needs no button.
export async function send_now(within) {
  const button = within.getByRole("button", { name: "Try to send it now" }).first();
  await button.click({ timeout: 5_000 }).catch(async (error) => {
    if (await button.count()) throw error;
  });
}
export const choose = (page, name) => page.getByRole("radio", { name }).check();

export async function note_left_without_signal(page) {
  await page.route("**/readings", (route) => route.abort());
  await press(page.getByLabel("What to record"), "Note a reading");
  await choose(page, "Left");
  await page.getByLabel("The unit shows").fill("43");
  await press(page, "Record this");
  await side(page, "left").getByText(/not sent yet\.$/).waitFor();
}
