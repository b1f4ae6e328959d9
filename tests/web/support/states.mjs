// SPDX-License-Identifier: MIT
// The twelve states in which the page is looked at, and how each is brought about with the stand-in service. The
// clock stands at a Tuesday evening, 20:40 by the clock at home.
import { open_phone } from "./browser.mjs";

export const evening = new Date("2026-11-24T19:40:00Z");

const plain = (household) => ({ household });

export const states = {
  calm: plain("calm"), due: plain("due"), now: plain("now"), warned: plain("warned"), old: plain("old"),
  waiting: { household: "waiting", then: change_left_without_signal },
  unknown_cells: plain("unknown"), disagreeing: plain("disagreeing"), wrong_cells: plain("wrong"), no_stock: plain("nostock"),
  dark: { household: "due", context: { colorScheme: "dark" } },
  large_text: { household: "due", text_percent: 200 },
};

async function change_left_without_signal(page) {
  await page.getByRole("button", { name: "Cells changed", exact: true }).click();
  await page.getByRole("radio", { name: "Left" }).check();
  await page.getByRole("radio", { name: /Lot 7Q/ }).check();
  await page.route("**/cell-changes", (route) => route.abort());
  await page.getByRole("button", { name: "Record this" }).click();
  await page.locator("[data-side=left] .sentence").getByText("not sent yet.").waitFor();
}

/// Text at 200 %, as a person sets it in the browser: the root size, which everything on the page follows.
export async function enlarge_text(page, percent) {
  await page.evaluate((size) => document.documentElement.style.setProperty("font-size", size), `${percent}%`);
}

export async function open_state(browser, base, name, { household, ...more } = {}) {
  const state = { ...states[name], ...(household && { household }) };
  const context = await open_phone(browser, { ...state.context, ...more });
  const page = await context.newPage();
  await page.clock.setFixedTime(evening);
  await page.goto(`${base}/h/${state.household}`);
  await page.locator("[data-stock]").waitFor();
  if (state.text_percent) await enlarge_text(page, state.text_percent);
  await state.then?.(page);
  return { context, page };
}
