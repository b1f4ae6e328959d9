// SPDX-License-Identifier: MIT
// Every screen of the phone, as its address has it: what a test looks at "on every screen" it looks at on all of these.

export const screens = [
  "", "change", "reading", "warned", "stock", "away", "message", "delivery", "more", "entries", "wrong", "card", "handover", "reminders", "phones", "invite", "sealed_code", "sign_out",
  "plans", "paced_more", "less", "settings?grows=yes&paced=spans", "visit", "hospital", "back_home", "unit", "end", "no_deliveries", "compare?what=both&side=both",
];

/// Opens it, and waits until its own heading stands there: two screens that follow each other have different ones.
export async function open_screen(page, hash) {
  const before = await page.evaluate((to) => {
    const title = location.hash.slice(1) === to ? null : [...document.querySelectorAll("h1")].find((one) => one.checkVisibility()).textContent;
    location.hash = to;
    return title;
  }, hash);
  await page.waitForFunction(([to, was]) => {
    const title = [...document.querySelectorAll("h1")].find((one) => one.checkVisibility())?.textContent;
    return title && title !== was && (to === "") === Boolean(document.querySelector(".actions")?.checkVisibility());
  }, [hash, before]);
}
