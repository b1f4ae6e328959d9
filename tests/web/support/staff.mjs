// SPDX-License-Identifier: MIT
// Someone of the agency at a desk, signed in to the stand-in in a role, on the evening of states.mjs.
import { after, before } from "node:test";
import { start_fake } from "../fake/server.mjs";
import { open_phone, start_browser } from "./browser.mjs";
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

/// Called inside `describe`: the planner at the stand-in. `at` makes a test of a page of the desk; `open` opens one more,
/// which whoever opened it closes.
export function at_the_desk({ ready = async () => undefined } = {}) {
  const there = { fake: null, browser: null };
  before(async () => {
    [there.fake, there.browser] = await Promise.all([start_fake(() => evening), start_browser()]);
    sign_in_as(there.fake, "planner", "Office");
  });
  after(async () => {
    await there.browser?.close();
    await there.fake?.stop();
  });
  there.open = (hash, options) => open_desk(there.browser, there.fake, hash, options);
  there.at = (hash, work) => async () => {
    const { context, page } = await there.open(hash);
    try {
      await ready(page);
      await work(page);
    } finally {
      await context.close();
    }
  };
  return there;
}
