// SPDX-License-Identifier: MIT
// Someone of the agency at a desk, signed in to the stand-in in a role, on the evening of states.mjs.
import { open_phone } from "./browser.mjs";
import { evening } from "./states.mjs";

export const desk = { width: 1280, height: 900 };

/// The stand-in then takes everyone for this person.
export function sign_in_as(fake, role, label = "Workshop") {
  const account = fake.access.add_account({ role, label });
  fake.access.who = () => account;
  return account;
}

/// `hash` names the page: "bench/finding?id=7".
export async function open_desk(browser, fake, hash, options = {}) {
  const context = await open_phone(browser, { viewport: desk, deviceScaleFactor: 1, ...options });
  const page = await context.newPage();
  await page.clock.setFixedTime(evening);
  await page.goto(`${fake.base}/#${hash}`);
  await page.locator("main h1").waitFor();
  return { context, page };
}
