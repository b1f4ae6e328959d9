// SPDX-License-Identifier: MIT
// Reminders on the phone: that they are no alarms is said first; the calendar's address is shown once; what a phone is
// sent is explained before its browser asks; and what the service worker does with each kind.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { describe, test } from "node:test";
import { objections } from "./support/axe.mjs";
import { on_the_evening } from "./support/journey.mjs";
import { choose, press } from "./support/phone.mjs";
import { load_source } from "./support/source.mjs";

const source = await load_source("offline/push", "offline/push_words", "reminders/here", "reminders/settings_model");

/// What a worker has around it, with what it did.
function surroundings(already = []) {
  const did = [];
  let shown = already.map((tag) => ({ tag, close: () => did.push(`closed ${tag}`) }));
  return {
    did,
    show: async (title, words) => {
      did.push(`${words.silent ? "silently " : ""}showed ${title}: ${words.body}`);
      shown = [...shown, { tag: words.tag, close: () => did.push(`closed ${words.tag}`) }];
    },
    shown: async (tag) => shown.filter((one) => one.tag === tag),
    confirm: async (path, body) => did.push(`confirmed ${body.reminder} at ${path}`),
    pause: async (ms) => did.push(`waited ${ms}`),
  };
}

const reminder = { kind: "reminder", reminder: "r-1", household: "h 1", tag: "left-2026-11-28", title: "Cellarer", body: "Something to do before tonight. Open the page.", urgent: true, url: "/" };

test("a reminder is shown in the service's words, and confirmed", async () => {
  const around = surroundings();
  await source.on_push(reminder, around);
  assert.deepEqual(around.did, ["showed Cellarer: Something to do before tonight. Open the page.", "confirmed r-1 at /api/v1/households/h%201/push/confirmed"]);
});

test("on a phone whose pages speak Spanish, all that a reminder may say is told in it, and a new sentence stays as it came", () => {
  const words = readFileSync(new URL("../../server/reminders/words.cpp", import.meta.url), "utf8") + readFileSync(new URL("../../server/reminders/words.hpp", import.meta.url), "utf8");
  const told = (text) => source.told_on_this_phone(text, "es", []);
  for (const [text, spanish] of [
    ["Nothing is recorded yet. Change the left cells before tonight, 21:30.", "Todavía no hay nada registrado. Cambie las pilas del lado izquierdo antes de esta noche, 21:30."],
    ["Change the right cells now.", "Cambie ahora las pilas del lado derecho."],
    ["Order cells by Thu 10 Dec.", "Pida pilas antes del jue 10 dic."],
    ["Something to do before tonight. Open the page.", "Algo que hacer antes de esta noche. Abra la página."],
    ["Something new.", "Something new."],
  ]) assert.equal(told(text), spanish);
  const whole = [...words.matchAll(/"([A-Z][^"]*\.)"/g)].map(([, text]) => text).filter((text) => !text.includes("page knows"));
  assert.ok(whole.length >= 6, whole.join(" | "));
  for (const text of whole) assert.doesNotMatch(told(text), /\b(the|is|are|have|to)\b/, text);
  assert.equal(source.told_on_this_phone("Change the right cells now.", null, ["nb-NO", "en-GB"]), "Change the right cells now.");
  assert.equal(source.told_on_this_phone("Change the right cells now.", null, ["es-MX"]), "Cambie ahora las pilas del lado derecho.");
});

test("a confirmation that does not get through harms nothing", async () => {
  const around = surroundings();
  await source.on_push(reminder, { ...around, confirm: async () => Promise.reject(new Error("no signal")) });
  assert.equal(around.did.length, 1, "it was shown");
});

test("what was recorded meanwhile goes from the screen, and is not confirmed", async () => {
  const around = surroundings(["left-2026-11-28"]);
  await source.on_push({ ...reminder, kind: "gone" }, around);
  assert.deepEqual(around.did, ["closed left-2026-11-28"]);
});

test("where nothing was shown, its going is shown silently for a moment", async () => {
  const around = surroundings();
  await source.on_push({ ...reminder, kind: "gone", body: "Recorded." }, around);
  assert.deepEqual(around.did, ["silently showed Cellarer: Recorded.", "waited 3000", "closed left-2026-11-28"]);
});

test("a tap opens a page of ours and no other", () => {
  const page = (url) => source.page_of({ data: { url } }, "https://cellarer.example");
  assert.equal(page("/h/h-1"), "https://cellarer.example/h/h-1");
  assert.equal(page("https://elsewhere.example/"), "https://cellarer.example/");
  assert.equal(page(7), "https://cellarer.example/");
});

test("an iPhone is asked to install the page first; others are asked, told of a refusal, or told that they cannot", () => {
  const phone = { has_push: true, permission: "default", is_ios: false, is_installed: false };
  assert.equal(source.ability_of(phone), "can");
  assert.equal(source.ability_of({ ...phone, permission: "denied" }), "refused");
  assert.equal(source.ability_of({ ...phone, has_push: false }), "cannot");
  assert.equal(source.ability_of({ ...phone, has_push: false, is_ios: true }), "install_first");
  assert.equal(source.ability_of({ ...phone, is_ios: true, is_installed: true }), "can");
});

test("settings come back from the form as they went in, and a missing time is said", () => {
  const settings = { what: ["changes"], at: "18:30", quiet: null, words: "plain", second_after_min: null };
  assert.deepEqual(source.settings_of(source.draft_of(settings)).settings, settings);
  assert.ok(source.settings_of({ ...source.draft_of(settings), at: "" }).errors.at);
});

describe("the reminders page", () => {
  const { reading } = on_the_evening();
  const open = async (page) => {
    await press(page, "Reminders");
    await page.getByText("Reminders are not alarms and may not arrive.").waitFor();
  };

  test("the calendar's address is made, shown once, and made anew", reading("calm-calendar", async (page) => {
    await open(page);
    const card = page.getByRole("region", { name: "In the calendar you look at anyway" });
    await card.getByText(/only every 8 to 24 hours/).waitFor();
    await press(card, "Make an address");
    await card.getByText(/reminders\.ics\?key=invented$/).waitFor();
    assert.match(await card.getByRole("link", { name: "Open in the calendar" }).getAttribute("href"), /^webcal:/);
    await press(page, "Back");
    await open(page);
    await card.getByRole("button", { name: "Make a new address" }).waitFor();
    assert.equal(await card.getByText(/key=invented/).count(), 0);
    await press(card, "End the calendar");
    await card.getByRole("button", { name: "Make an address" }).waitFor();
  }));

  test("how the home wishes them is kept", reading("calm-wishes", async (page) => {
    await open(page);
    await page.getByText("Quiet hours never silence “change before tonight” or “change now”.").waitFor();
    await choose(page, /^At a time of the day/);
    await page.getByLabel("At, by the clock at home").fill("17:45");
    await choose(page, /^Plain/);
    await press(page, "Keep this");
    await page.getByText("It is kept.").waitFor();
    await press(page, "Back");
    await open(page);
    assert.equal(await page.getByLabel("At, by the clock at home").inputValue(), "17:45");
  }));

  test("of a home that the agency closed it says so, whom to call, and lets go of what came here", reading("ended", async (page) => {
    await open(page);
    const card = page.getByRole("region", { name: "The agency closed this home yesterday 14:00." });
    await card.getByText("Nothing is reminded: not on this phone, not on another, and the calendar is empty.", { exact: true }).waitFor();
    await card.getByText("If that is wrong, call the agency, by the number you were given.", { exact: true }).waitFor();
    assert.equal(await page.getByRole("button", { name: /Make an? (new )?address|Send reminders|Try one now|Keep this/ }).count(), 0, "nothing is offered that would do nothing");
    assert.deepEqual(await objections(page), []);
    await press(card, "No more to this phone");
    await press(card, "End the calendar");
    await card.getByRole("button", { name: "End the calendar" }).waitFor({ state: "detached" });
    assert.equal(await card.getByRole("button").count(), 0);
    await press(page, "Back");
    await page.locator("[data-stock]").waitFor();
  }));

  test("of a closed home whose agency entered a number, that is one tap away", reading("ended-number", async (page) => {
    await page.route(/\/households\/ended-number$/, async (route) => route.fulfill({ json: { ...(await (await route.fetch()).json()), help: { number: "+47 22 00 00 00", label: "Office", steps: null, approved_on: null, approved_by: null } } }));
    await page.reload();
    await page.locator("[data-stock]").waitFor();
    await open(page);
    assert.equal(await page.getByRole("link", { name: "Call +47 22 00 00 00" }).getAttribute("href"), "tel:+4722000000");
  }));

  test("a service that sends none says so", reading("calm-without", async (page) => {
    await open(page);
    await page.getByText("This service sends none to phones. The calendar below does without it.").waitFor();
  }));
});
