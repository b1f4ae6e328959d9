// SPDX-License-Identifier: MIT
// Saves a picture of every screen of signing in, of the phones of a home, and of what to do when something is wrong, into
// build/screens: light at 390 px, dark at 320 px, and 320 px with text at 200 %.
import { mkdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { start_fake } from "./fake/server.mjs";
import { open_phone, start_browser } from "./support/browser.mjs";
import { press, stock } from "./support/phone.mjs";
import { enlarge_text, evening } from "./support/states.mjs";

const folder = process.argv[2] ?? fileURLToPath(new URL("../../build/screens/access/", import.meta.url));
mkdirSync(folder, { recursive: true });
const small = { width: 320, height: 640 };
const looks = { light: {}, dark_320: { colorScheme: "dark", viewport: small }, large_320: { viewport: small, text_percent: 200 } };
const heading = (page, name) => page.getByRole("heading", { name, exact: true }).waitFor();

/// Each step begins on the screen on which the one before ended, and ends on the one of its name.
const steps = {
  signed_out: async (page, { base }) => {
    await page.goto(`${base}/h/calm-a`);
    await heading(page, "This phone is not signed in.");
  },
  wrong: async (page) => {
    await page.getByRole("link", { name: "Something is wrong now" }).click();
    await heading(page, "Something is wrong now");
  },
  sign_in: async (page, { base }) => {
    await page.goto(`${base}/in`);
    await heading(page, "Sign in");
  },
  invitation_over: async (page, { base }) => {
    await page.goto("about:blank");
    await page.goto(`${base}/in#${"A".repeat(27)}`);
    await press(page, "Sign in this phone");
    await page.getByText("used already").waitFor();
  },
  invited: async (page, { base, access }) => {
    await page.goto("about:blank");
    await page.goto(access.invite({ role: "household", household: "calm-a", label: "A phone" }, base).link);
    await page.getByLabel(/A label/).fill("Kitchen phone");
  },
  bound: async (page) => {
    await press(page, "Sign in this phone");
    await heading(page, "This phone is signed in.");
  },
  phones: async (page, { access }) => {
    await press(page, "Open the page of the home");
    await stock(page).waitFor();
    access.add_account({ role: "guest", household: "calm-a", label: "School phone", hours: { from: "08:00", to: "16:00" }, until: "2026-12-19T00:00:00+01:00" });
    await press(page, "Phones of this home");
    await page.getByText("School phone").first().waitFor();
  },
  invite: async (page) => {
    await press(page, "Invite another phone");
    await page.getByRole("radio", { name: /A guest/ }).check();
    await page.getByLabel(/What to call it/).fill("Grandparents' phone");
    await page.getByLabel("Last day").fill("2026-12-18");
  },
  invitation: async (page) => {
    await press(page, "Make the invitation");
    await page.locator(".qr").waitFor();
  },
  sealed_code: async (page) => {
    await press(page, "Done");
    await page.getByRole("button", { name: /A sealed recovery/ }).click();
    await press(page, "Make a new code");
    await page.locator(".code").waitFor();
  },
  card: async (page, { base }) => {
    await page.goto(`${base}/h/calm-a#card`);
    await page.locator(".fridge").waitFor();
  },
  sign_out: async (page, { base }) => {
    await page.goto(`${base}/h/calm-a#sign_out`);
    await heading(page, "Sign this phone out");
  },
};

const browser = await start_browser();
for (const [look, { text_percent, ...options }] of Object.entries(looks)) {
  const fake = await start_fake(() => evening, { locked: true });
  const context = await open_phone(browser, { ...options, bypassCSP: true });
  const page = await context.newPage();
  await page.clock.setFixedTime(evening);
  for (const [name, step] of Object.entries(steps)) {
    await step(page, fake);
    if (text_percent) await enlarge_text(page, text_percent);
    await page.screenshot({ path: `${folder}/${name}_${look}.png` });
    await page.screenshot({ path: `${folder}/${name}_${look}_whole.png`, fullPage: true, style: ".foot, .help { position: static !important; }" });
    console.log(`${folder}/${name}_${look}.png`);
  }
  await context.close();
  await fake.stop();
}
await browser.close();
