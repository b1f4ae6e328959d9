// SPDX-License-Identifier: MIT
// 5 000 households: how long the main thread works for a letter typed in the search, slowed down four times.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { start_fake } from "./fake/server.mjs";
import { start_browser } from "./support/browser.mjs";
import { open_desk, sign_in_as } from "./support/staff.mjs";
import { evening } from "./support/states.mjs";
import { median, reckoned_ms, told, typing_ms } from "./support/typing.mjs";

const homes = 5_000;
const slower = 4;
const limit_ms = 100;
const typed = ["h", "h-00", "h-0042", "north", "north h-00", "S-4", "islands", "", "fjord 7", "h-004999", "east"];

let fake;
let browser;
before(async () => {
  [fake, browser] = await Promise.all([start_fake(() => evening, { homes }), start_browser()]);
  sign_in_as(fake, "planner", "Office");
});
after(async () => {
  await browser?.close();
  await fake?.stop();
});

test("5 000 rows are filtered in under 100 ms of main thread at a quarter of the speed", async (t) => {
  const { context, page } = await open_desk(browser, fake, "desk");
  try {
    await page.getByText(`${homes} of ${homes} households`).waitFor({ timeout: 60_000 });
    const what = { typed, before: "south", slower };
    const times = await typing_ms(context, page, what);
    const reckoned = await reckoned_ms(context, page, what);
    t.diagnostic(`a letter typed: ${told(times)}; reckoned from full speed: ${told(reckoned)}`);
    assert.ok(median(reckoned) < limit_ms, reckoned.map((one) => one.toFixed(0)).join(" "));
    // A busy machine's slowed time is told, not judged: with tests/run --long it is.
    if (process.env.CELLARER_LONG) assert.ok(median(times) < limit_ms, times.map((one) => one.toFixed(0)).join(" "));
  } finally {
    await context.close();
  }
});
