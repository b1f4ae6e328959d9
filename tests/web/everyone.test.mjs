// SPDX-License-Identifier: MIT
// The phone page for everyone: by keyboard alone, by names alone, with the system's own colours, and with nothing that
// moves by itself.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { objections } from "./support/axe.mjs";
import { on_the_evening } from "./support/journey.mjs";
import { side, stock } from "./support/phone.mjs";
import { open_screen, screens } from "./support/screens.mjs";

describe("the phone page", () => {
  const { reading } = on_the_evening();

  const each_screen = async (page, look) => {
    for (const hash of screens) {
      await open_screen(page, hash);
      await look(`#${hash}`);
    }
  };

  /// A screen that has just opened takes the focus to its heading once more.
  const focus_stays = async (link) => {
    for (let frames = 0; frames < 5; ) {
      await link.focus();
      await link.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))));
      frames = (await link.evaluate((it) => it === document.activeElement)) ? frames + 1 : 0;
    }
  };

  /// Tab, until what has the focus bears this name.
  const tab_to = async (page, name) => {
    for (let steps = 0; steps < 60; steps++) {
      await page.keyboard.press("Tab");
      const found = await page.evaluate(() => {
        const at = document.activeElement;
        const ring = getComputedStyle(at.closest("label") ?? at);
        return { words: (at.labels?.[0] ?? at).innerText ?? "", ring: ring.outlineStyle, width: parseFloat(ring.outlineWidth) };
      });
      if (found.ring === "none" || found.width < 2) throw new Error(`no ring shows that the focus is at: ${found.words}`);
      if (found.words.trim().startsWith(name)) return;
    }
    throw new Error(`the Tab key does not lead to: ${name}`);
  };

  /// Comes to be: the page gives the focus once it is drawn. Between two screens nothing has it, not even the body.
  const focus_is = async (page, holds, why) => {
    // Asked from outside, again and again: the page's own rules (no eval) would end a wait that stands within it.
    const ask = () => page.evaluate(`(${holds})(document.activeElement ?? document.body)`);
    let there = await ask();
    for (const until = Date.now() + 5000; !there && Date.now() < until; there = await ask()) await page.waitForTimeout(50);
    assert.ok(there, `${why}; it is at: ${await page.evaluate(() => document.activeElement.innerText)}`);
  };

  test("a change is recorded and undone by keyboard alone, with a ring around what has the focus", reading("calm-keys", async (page) => {
    await tab_to(page, "Cells changed");
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "Cells changed" }).waitFor();
    await tab_to(page, "Left");
    await page.keyboard.press("Space");
    await tab_to(page, "Record this");
    await page.keyboard.press("Enter");
    await focus_is(page, (at) => at.innerText?.startsWith("The left side is not due"), "what is asked once more has the focus");
    await tab_to(page, "Yes, the left cells");
    await page.keyboard.press("Enter");
    await side(page, "left").getByText(/^Recorded:/).waitFor();
    await focus_is(page, (at) => at.tagName === "H1", "back on the first screen reading starts at the top");
    await tab_to(page, "Undo");
    await page.keyboard.press("Enter");
    await side(page, "left").getByText(/^Recorded:/).waitFor({ state: "detached" });
  }));

  test("what to do when something is wrong is reached by keyboard from every screen", reading("due", async (page) => {
    await each_screen(page, async (where) => {
      if (where === "#wrong") return;
      await focus_stays(page.getByRole("link", { name: "Something is wrong now" }));
      await page.keyboard.press("Enter");
      await page.getByRole("heading", { name: "Look at the wearer." }).or(page.getByText("Look at the wearer.")).first().waitFor();
    });
  }));

  test("a screen reader hears each side under its name, the nights in words, and no two buttons alike", reading("due", async (page) => {
    const heard = await page.locator("main").ariaSnapshot();
    for (const part of [/region "Left"/, /region "Right"/, /button "Left, coming nights: .*expected.*Show the numbers\."/, /button "How sure\? Right: range and reasons"/, /link "Right: change before tonight\."/]) assert.match(heard, part);
    const names = [...heard.matchAll(/- button "([^"]+)"/g)].map(([, name]) => name);
    assert.equal(new Set(names).size, names.length, names.join(" | "));
    assert.ok(!/- (button|link|textbox|radio|img)(:| *\n)/.test(heard), "everything has a name");
  }));

  test("what is on its way and what was recorded is said aloud, once", reading("calm-aloud", async (page) => {
    const said = page.locator("[role=status].unseen");
    await page.evaluate(() => (location.hash = "reading"));
    await page.getByRole("radio", { name: "Left" }).check();
    await page.getByLabel("The unit shows").fill("71");
    await page.getByRole("button", { name: "Record this" }).click();
    await said.getByText(/^Recorded: .*It can be undone for two minutes\.$/).waitFor();
    assert.equal(await said.count(), 1);
  }));

  test("with the system's own colours axe finds nothing on any screen, and what is to be done differs in its frame", reading("due", async (page) => {
    await each_screen(page, async (where) => assert.deepEqual((await objections(page)).map((one) => `${where}: ${one}`), []));
    await page.evaluate(() => (location.hash = ""));
    const frame = (name) => side(page, name).evaluate((card) => `${getComputedStyle(card).borderTopStyle} ${getComputedStyle(card).borderTopWidth}`);
    await side(page, "right").waitFor();
    assert.equal(await frame("right"), "double 6px");
    assert.notEqual(await frame("left"), await frame("right"));
  }, { forcedColors: "active" }));

  test("nothing moves by itself on any screen, also where the phone does not ask for less motion", reading("due", async (page) => {
    await each_screen(page, async (where) => {
      const moving = await page.evaluate(() => [...document.getAnimations().map((one) => one.animationName ?? one.transitionProperty ?? "moved by a script"), ...[...document.querySelectorAll("*")].filter((one) => getComputedStyle(one).transitionDuration.split(",").some((time) => parseFloat(time) > 0)).map((one) => one.outerHTML.slice(0, 60)), ...(getComputedStyle(document.documentElement).scrollBehavior === "smooth" ? ["smooth scrolling"] : [])]);
      assert.deepEqual(moving.map((one) => `${where}: ${one}`), []);
    });
  }, { reducedMotion: "no-preference" }));

  test("nothing that can be pressed moves when the forecast arrives; where that takes long it stands there already", reading("calm-still", async (page) => {
    await page.addInitScript(() => {
      window.shifted = 0;
      new PerformanceObserver((list) => list.getEntries().forEach(({ value }) => (window.shifted += value))).observe({ type: "layout-shift", buffered: true });
    });
    let answer;
    const held = new Promise((resolve) => (answer = resolve));
    await page.route("**/forecast", async (route) => {
      await held;
      await route.continue();
    });
    await page.reload();
    await page.getByText("Asking for the forecast…").waitFor();
    assert.equal(await page.locator(".actions").count(), 0);
    answer();
    await stock(page).waitFor();
    await page.locator(".actions").waitFor();
    assert.ok((await page.evaluate(() => window.shifted)) < 0.01, "moved");
    await page.unroute("**/forecast");
    await page.route("**/forecast", () => undefined);
    await page.reload();
    await page.getByText("Asking for a newer forecast…").waitFor();  // what this phone kept
    await page.locator(".actions").waitFor();
  }));
});
