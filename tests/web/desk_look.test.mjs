// SPDX-License-Identifier: MIT
// How the planner's desk looks, measured: axe's rules, widths, sizes of targets, and that styles stand in style files.
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { after, before, describe, test } from "node:test";
import { start_fake } from "./fake/server.mjs";
import { objections } from "./support/axe.mjs";
import { start_browser } from "./support/browser.mjs";
import { open_desk, sign_in_as } from "./support/staff.mjs";
import { evening } from "./support/states.mjs";

const folder = new URL("../../web/src/desk/", import.meta.url);
const sources = readdirSync(folder, { recursive: true }).filter((name) => /\.(tsx?|css)$/.test(name)).map((name) => ({ name, text: readFileSync(new URL(name, folder), "utf8") }));

test("no colour stands in the desk's pages, and its style files take theirs from the tokens", () => {
  const colour = /#[0-9a-f]{3,8}\b(?=["';\s])|\brgba?\(|\bhsl\(/i;
  for (const { name, text } of sources) assert.doesNotMatch(text.replace(/"#[a-z_/?]+[^"]*"/g, ""), colour, name);
});

test("sizes stand in the style files, but for the height of rows that are not drawn", () => {
  for (const { name, text } of sources.filter((one) => /\.tsx$/.test(one.name) && one.name !== "list/windowed.tsx")) assert.doesNotMatch(text, /\bstyle=\{/, name);
});

describe("in the browser", () => {
  let fake;
  let browser;
  before(async () => {
    [fake, browser] = await Promise.all([start_fake(() => evening), start_browser()]);
    sign_in_as(fake, "planner", "Office");
    fake.trail.links.splice(0, fake.trail.links.length - 12); // of each kind; axe looks at every group of every hash
  });
  after(async () => {
    await browser?.close();
    await fake?.stop();
  });

  const opened = (page) => page.waitForFunction(() => document.querySelector(".desk h1") && !document.querySelector(".asking"));
  const household = () => fake.desk.rows.find((row) => row.attention.includes("message")).household;
  const pages = () => ["desk", `desk?household=${household()}`, "desk/plan", `desk/plan?${new URLSearchParams({ round: fake.desk.plan().rounds[0].round })}`, "desk/short", "desk/calendar", "desk/store", "desk/lots", "desk/lot?lot=B7&item=cells", "desk/costs", "desk/in_out", "desk/cautions"];
  const trail = () => ["desk/trail", `desk/trail?before=${fake.trail.links[6].number}`];

  const looks = { "1280 px": {}, "320 px, dark": { viewport: { width: 320, height: 640 }, colorScheme: "dark" }, "forced colours": { forcedColors: "active" } };
  const look_at = async (hashes, options, act = async () => undefined) => {
    const { context, page } = await open_desk(browser, fake, "desk", options);
    try {
      for (const hash of hashes) {
        await page.evaluate((to) => (location.hash = to), hash);
        await opened(page);
        await act(page);
        assert.deepEqual((await objections(page, { but: [] })).map((one) => `${hash}: ${one}`), []);
      }
    } finally {
      await context.close();
    }
  };
  for (const [what, options] of Object.entries(looks)) {
    test(`axe finds nothing on any page at ${what}, and each fits`, () => look_at(pages(), options));
    test(`nor on the audit trail, whole and broken, with whole hashes, at ${what}`, async () => {
      sign_in_as(fake, "administrator", "Office");
      await look_at(trail(), options);
      fake.trail.broken = `entry 9 of household agency/h-000175 was changed (link ${fake.trail.links[3].number} of the chain of agency)`;
      await look_at(trail(), options, (page) => page.getByRole("button", { name: "Show whole hashes and ids" }).click());
      fake.trail.broken = null;
      sign_in_as(fake, "planner", "Office");
    });
  }
});
