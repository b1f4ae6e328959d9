// SPDX-License-Identifier: MIT
// What a home tells its agency: sent once, also later, told as seen once it was seen there, undone; and never taken for a call
// for help.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { objections } from "./support/axe.mjs";
import { on_the_evening, with_each_service } from "./support/journey.mjs";
import { choose, press, send_now, stock } from "./support/phone.mjs";
import { ask } from "./support/services.mjs";
import { load_source } from "./support/source.mjs";

const agency = (page) => page.locator("[data-agency]");
const call = "If it cannot wait, do not wait for an answer here: call the agency, by the number you were given.";
const no_call_for_help = "A message here is no call for help. If something is wrong now: press “Something is wrong now”, and call.";

async function tell_short(page, note) {
  await press(page, "Tell the agency");
  await choose(page, "We are running short");
  if (note) await page.getByLabel(/^A note/).fill(note);
  await press(page, "Send it");
}

const source = await load_source("state/correspondence", "forms/message_model");
const now = new Date("2026-11-24T19:40:00Z");

test("what nobody has seen stays in sight however old it is, what was seen for two days, and no more than three", () => {
  const message = (entry, seen_at) => ({ entry, about: "running_short", at: "2026-11-01T09:00:00Z", note: null, seen_at });
  const shown = (messages) => source.messages_to_show({ document: { messages, deliveries: [], closed_at: null }, read_ms: 0 }, now).map(({ entry }) => entry);
  assert.deepEqual(shown([message(4, "2026-11-24T08:00:00Z"), message(3, "2026-11-20T08:00:00Z"), message(2, null)]), [4, 2]);
  assert.deepEqual(shown([5, 4, 3, 2].map((entry) => message(entry, null))), [5, 4, 3]);
});

test("a note is measured as the service does, in bytes, and the time is the one when it was written", () => {
  const model = (note) => source.message_model({ about: "running_short", note }, { zone: "Europe/Oslo" }, now);
  assert.equal(model("ñ".repeat(250)).errors.note, undefined);
  assert.equal(model("ñ".repeat(251)).errors.note, "Make the note shorter: 500 letters at most.");
  assert.deepEqual(model(" two packs ").posts[0].body, { about: "running_short", at: "2026-11-24T20:40:00+01:00", note: "two packs", confirmed: ["future-date"] });
});

with_each_service("messages with", ({ journey, service }) => {
  const told = async (household) => (await ask(service().base, "GET", `/households/${household}/messages`)).messages;

  test("nothing is chosen beforehand, and it is sent with its note, not seen yet, with whom to call", journey(async (page, household) => {
    await press(page, "Tell the agency");
    await page.getByText(/^This is no call for help/).waitFor();
    assert.equal(await page.locator("main input:checked").count(), 0);
    await press(page, "Send it");
    await page.locator("#field-about .error").getByText("Choose what it is about.").waitFor();
    await choose(page, "There is trouble with a unit");
    await page.getByLabel(/^A note/).fill("the lid does not close");
    await page.getByText("Message to the agency: trouble with a unit. “the lid does not close”").waitFor();
    await press(page, "Send it");
    await agency(page).getByText(/^Trouble with a unit, today \d\d:\d\d: not seen by the agency yet\.$/).waitFor();
    for (const words of ["You wrote: the lid does not close", call, no_call_for_help]) await agency(page).getByText(words, { exact: true }).waitFor();
    const [{ about, note, seen_at }] = await told(household);
    assert.deepEqual({ about, note, seen_at }, { about: "unit_trouble", note: "the lid does not close", seen_at: null });
  }));

  test("that the agency has seen it is told, and then nobody is asked to call", journey(async (page, household) => {
    await tell_short(page);
    await agency(page).getByText(/not seen by the agency yet\.$/).waitFor();
    const [{ entry }] = await told(household);
    await ask(service().base, "POST", `/households/${household}/messages/${entry}/seen`, {});
    if (service().access) await page.evaluate(() => window.dispatchEvent(new Event("online")));  // the stand-in tells nothing as it happens
    await agency(page).getByText(/^Running short, today \d\d:\d\d: seen by the agency at \d\d:\d\d\.$/).waitFor();
    await agency(page).getByText(call).waitFor({ state: "detached" });
  }));

  test("its undo takes it back", journey(async (page, household) => {
    await tell_short(page);
    await agency(page).getByText(/not seen by the agency yet\.$/).waitFor();
    await press(agency(page), "Undo");
    await agency(page).waitFor({ state: "detached" });
    assert.deepEqual(await told(household), []);
  }));

  test("without a signal it says not sent yet and whom to call, outlives the page, and is sent once", journey(async (page, household) => {
    const post = async (route) => (route.request().method() === "POST" ? route.abort() : route.continue());
    await page.route("**/messages", post);
    await tell_short(page, "one roll left");
    await agency(page).getByText("Message to the agency: running short, not sent yet.").waitFor();
    await agency(page).getByText(call).waitFor();
    await page.reload();
    await agency(page).getByText("Message to the agency: running short, not sent yet.").waitFor();
    await page.unroute("**/messages", post);
    await send_now(agency(page));
    await agency(page).getByText(/^Running short, today \d\d:\d\d: not seen by the agency yet\.$/).waitFor();
    assert.equal((await told(household)).length, 1);
  }));

  test("the stock leads to it too, and it stands among what was recorded, with its undo", journey(async (page) => {
    await press(stock(page), "Running short? Tell the agency");
    await choose(page, "We are running short");
    await press(page, "Send it");
    await agency(page).getByText(/not seen by the agency yet\.$/).waitFor();
    await press(page, "What was recorded");
    await press(page.getByRole("listitem").filter({ hasText: "Running short: told the agency." }), /^Undo/);
    await page.locator("li.undone").first().waitFor();
    await press(page, "Back");
    await agency(page).waitFor({ state: "detached" });
  }));
});

describe("messages on the first screen", () => {
  const { reading } = on_the_evening();

  test("they stand below the sides and the stock, the one that nobody has seen first", reading("expecting", async (page) => {
    await agency(page).getByText("Running short, today 08:40: not seen by the agency yet.", { exact: true }).waitFor();
    await agency(page).getByText("Trouble with a unit, yesterday 20:05: seen by the agency today 09:12.", { exact: true }).waitFor();
    const tops = await page.locator("[data-side], [data-stock], [data-agency], .actions").evaluateAll((all) => all.map((one) => one.getBoundingClientRect().top));
    assert.deepEqual(tops, [...tops].sort((a, b) => a - b));
    const words = await agency(page).innerText();
    assert.ok(words.indexOf("not seen by") < words.indexOf("no call for help") && words.indexOf("no call for help") < words.indexOf("seen by the agency today"), words);
  }));

  test("the number that the agency entered is one tap away", reading("short", async (page) => {
    await page.route("**/households/short", async (route) => {
      const answer = await route.fetch();
      await route.fulfill({ response: answer, json: { ...(await answer.json()), help: { number: "+47 22 00 00 00", label: "the agency, day and night" } } });
    });
    await page.reload();
    const link = agency(page).getByRole("link", { name: /^Call \+47 22 00 00 00/ });
    await link.waitFor();
    assert.equal(await link.getAttribute("href"), "tel:+4722000000");
    await agency(page).getByText("If it cannot wait, do not wait for an answer here: call.", { exact: true }).waitFor();
  }));

  test("without a signal it says as of when they are", reading("short", async (page) => {
    await agency(page).waitFor();
    await page.waitForLoadState("networkidle");
    await page.route("**/api/**", (route) => route.abort());
    await page.evaluate(() => window.dispatchEvent(new Event("online")));
    await agency(page).getByText("As it stood today 20:40.").waitFor();
    await agency(page).getByText("Running short, today 08:40: not seen by the agency yet.", { exact: true }).waitFor();
  }));

  test("a home to which the agency brings nothing more reads so, and can still tell it something", reading("ended", async (page) => {
    await agency(page).getByText("The agency recorded yesterday 14:00 that it brings nothing more to this home. If that is wrong, call.", { exact: true }).waitFor();
    await page.getByRole("button", { name: "Tell the agency", exact: true }).waitFor();
  }));

  test("in Spanish they are told and sent in its own words", reading("seen", async (page) => {
    await agency(page).getByText("Queda poco, hoy 08:40: visto por la agencia a las 09:12.", { exact: true }).waitFor();
    await press(page, "Avisar a la agencia");
    await choose(page, "Hay un problema con una unidad");
    await press(page, "Enviarlo");
    await agency(page).getByText("Problema con una unidad, hoy 20:40: la agencia aún no lo ha visto.", { exact: true }).waitFor();
    await press(page, "Lo que se ha registrado");
    await page.getByText("Problema con una unidad: dicho a la agencia.", { exact: true }).waitFor();
  }, { locale: "es-ES" }));

  test("by keyboard, and axe finds nothing on the form", reading("calm-keys", async (page) => {
    await page.getByRole("button", { name: "Tell the agency", exact: true }).press("Enter");
    const first = page.getByRole("radio", { name: "We are running short" });
    await first.waitFor();
    await first.press("Space");
    await page.getByText("Message to the agency: running short.", { exact: true }).waitFor();
    assert.deepEqual(await objections(page), []);
    await page.getByRole("button", { name: "Send it" }).press("Enter");
    await agency(page).getByText(/not seen by the agency yet\.$/).waitFor();
    assert.deepEqual(await objections(page), []);
  }));
});
