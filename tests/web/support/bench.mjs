// SPDX-License-Identifier: MIT
// Tests of the bench: a stand-in of its own for each, a technician signed in, the clock standing on the evening of states.mjs.
import { after, before, describe } from "node:test";
import { start_fake } from "../fake/server.mjs";
import { start_browser } from "./browser.mjs";
import { open_desk, sign_in_as } from "./staff.mjs";
import { evening } from "./states.mjs";

export function with_bench(title, tests) {
  describe(`the bench: ${title}`, () => {
    let browser;
    before(async () => {
      browser = await start_browser();
    });
    after(() => browser?.close());
    const at_bench = (hash, work, options = {}) => async () => {
      const fake = await start_fake(() => evening, { locked: true });
      sign_in_as(fake, options.role ?? "technician");
      const { context, page } = await open_desk(browser, fake, hash, options);
      const faults = [];
      page.on("pageerror", (error) => faults.push(error.message));
      page.on("console", (message) => message.type() === "error" && /Content Security|Refused to/.test(message.text()) && faults.push(message.text()));
      try {
        await work(page, fake.bench, fake);
        if (faults.length) throw new Error(`the page reported: ${faults.join("; ")}`);
      } finally {
        await context.close();
        await fake.stop();
      }
    };
    tests({ at_bench });
  });
}
