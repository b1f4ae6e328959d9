// SPDX-License-Identifier: MIT
// Debian's Chromium without its windows, driven by Playwright. The packages live in web/node_modules, locked there.
import { createRequire } from "node:module";

export const require_web = createRequire(new URL("../../../web/package.json", import.meta.url));
const { chromium } = require_web("playwright-core");

export const phone = { width: 390, height: 844 };

export function start_browser() {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium-headless-shell",
    headless: true,
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
  });
}

/// A phone far from the household's zone, so that every time on the page must come from the household's zone. Without a
/// service worker, which would answer before a test's own routes do.
export function open_phone(browser, options = {}) {
  return browser.newContext({ viewport: phone, deviceScaleFactor: 2, timezoneId: "America/Lima", locale: "en-GB", reducedMotion: "reduce", serviceWorkers: "block", ...options });
}
