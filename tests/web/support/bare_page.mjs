// SPDX-License-Identifier: MIT
// A page of a phone as it is by itself: touched, with its service worker, and watched by nothing but its own counters. What
// tests are driven with listens to every touch and every request of a page, which is work on the page's main thread too.
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { phone } from "./browser.mjs";

const quiet = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"];

/// A browser that is spoken to through a pipe, in the protocol of its own tools: a message, then a zero.
export function start_bare_browser() {
  const profile = mkdtempSync(join(tmpdir(), "cellarer-bare-"));
  const program = process.env.CHROMIUM ?? "/usr/bin/chromium-headless-shell";
  const child = spawn(program, [...quiet, "--remote-debugging-pipe", `--user-data-dir=${profile}`, "about:blank"], { stdio: ["ignore", "ignore", "ignore", "pipe", "pipe"] });
  const [, , , to, from] = child.stdio;
  const asked = new Map();
  let count = 0;
  let begun = "";
  from.setEncoding("utf8").on("data", (text) => {
    const messages = (begun + text).split("\0");
    begun = messages.pop();
    for (const { id, error, result } of messages.map((one) => JSON.parse(one))) {
      const { resolve, reject } = asked.get(id) ?? {};
      asked.delete(id);
      if (error) reject?.(new Error(error.message));
      else resolve?.(result);
    }
  });
  const send = (method, params = {}, sessionId) => new Promise((resolve, reject) => {
    asked.set(++count, { resolve, reject });
    to.write(`${JSON.stringify({ id: count, method, params, ...(sessionId && { sessionId }) })}\0`);
  });
  const ended = new Promise((resolve) => child.once("exit", resolve));
  const stop = async () => {
    void send("Browser.close").catch(() => undefined);
    await ended;
    rmSync(profile, { recursive: true, force: true });
  };
  return { send, stop };
}

const shown_button = (words) => `[...document.querySelectorAll("button")].find((one) => one.checkVisibility() && one.textContent.trim().startsWith(${JSON.stringify(words)}))`;
const patience_ms = 120_000;

/// A page in a context of its own, with the handles that `recorded_change.mjs` needs.
export async function open_bare_page({ send }) {
  const { browserContextId } = await send("Target.createBrowserContext");
  const { targetId } = await send("Target.createTarget", { url: "about:blank", browserContextId });
  const { sessionId } = await send("Target.attachToTarget", { targetId, flatten: true });
  const tell = (method, params) => send(method, params, sessionId);
  const evaluate = async (expression) => {
    const { result, exceptionDetails: fault } = await tell("Runtime.evaluate", { expression, awaitPromise: true, returnByValue: true });
    if (fault) throw new Error(fault.exception?.description ?? fault.text);
    return result.value;
  };
  const until = async (expression) => {
    for (const end = Date.now() + patience_ms; Date.now() < end; await pause(100)) {
      if (await evaluate(`Boolean(${expression})`).catch(() => false)) return;
    }
    throw new Error(`after ${patience_ms / 1000} s there still was no ${expression}`);
  };
  await tell("Emulation.setDeviceMetricsOverride", { ...phone, deviceScaleFactor: 2, mobile: true });
  await tell("Emulation.setTouchEmulationEnabled", { enabled: true });
  return {
    tell, evaluate, until,
    go_to: (url) => tell("Page.navigate", { url }),
    press: async (words) => {
      await until(shown_button(words));
      await evaluate(`${shown_button(words)}.click()`);
    },
    middle_of: async (words) => {
      await until(shown_button(words));
      return evaluate(`(({ x, y, width, height }) => ({ x: x + width / 2, y: y + height / 2 }))(${shown_button(words)}.getBoundingClientRect())`);
    },
    /// A finger.
    touch: async (place) => {
      await tell("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: [place] });
      await tell("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
    },
    close: () => send("Target.disposeBrowserContext", { browserContextId }),
  };
}
