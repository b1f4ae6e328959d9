// SPDX-License-Identifier: MIT
// One planner's morning at the real service, with homes of the demo's invented agency: in by an invitation and a passkey,
// the list, a household beside it, the plan, a stop left out by hand, a round confirmed, on paper, loaded, left and
// received; then a lot is recalled, and a home is closed that has a stop.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { authenticator } from "./support/authenticator.mjs";
import { access_services } from "./support/access_services.mjs";
import { phones, press } from "./support/phone.mjs";
import { desk } from "./support/staff.mjs";

const homes = 24;
const service_of = access_services.find((one) => one.name === "the service");

describe("a planner's morning at the service", () => {
  const browse = phones();
  let service;
  before(async () => {
    service = await service_of.start({ homes });
  });
  after(() => service?.stop());

  const at = (page, hash) => page.evaluate((to) => (location.hash = to), hash);
  const beside = (page) => page.locator(".beside-list");
  const in_house = async (household) => (await service.ask("GET", `/households/${household}/desk`)).stock.filter((one) => one.item === "cells").reduce((sum, one) => sum + one.pieces, 0);

  async function come_in(page) {
    await authenticator(page);
    await page.goto(await service.staff_link("planner"));
    await press(page, "Sign in this phone");
    await press(page, "Make a passkey");
    await page.getByRole("heading", { name: "Your recovery codes" }).waitFor();
    await page.getByRole("checkbox").check();
    await press(page, "Go on");
    await page.getByRole("heading", { name: "Who needs what" }).waitFor();
    await page.context().clearCookies();
    await page.goto(service.base);
    await press(page, "Sign in with a passkey");
    await page.getByRole("heading", { name: "Who needs what" }).waitFor();
  }

  async function see_the_list(page) {
    await page.getByText(`${homes} of ${homes} households`, { exact: true }).waitFor();
    await page.getByText("An estimate. The unit's own alarm comes first: act on it at once.").first().waitFor();
    const first = page.locator(".who-row a").first();
    const household = await first.innerText();
    await first.click();
    await beside(page).getByRole("heading", { name: household, level: 2 }).waitFor();
    await beside(page).getByRole("heading", { name: "What it needs" }).waitFor();
    await page.keyboard.press("Escape");
    await beside(page).waitFor({ state: "detached" });
  }

  /// The first round with two stops at least: one is left out, the others are confirmed.
  async function choose_round(page) {
    await page.getByRole("link", { name: "The plan", exact: true }).click();
    await page.locator(".round-line").first().waitFor();
    const { rounds } = await service.ask("GET", "/plan");
    return rounds.find((one) => one.state === "open" && one.stops.length > 1);
  }

  async function leave_one_out(page, { round, stops }) {
    const [{ stop }] = stops;
    await at(page, `desk/plan?${new URLSearchParams({ round })}`);
    await page.getByRole("button", { name: `Move ${stop}`, exact: true }).click();
    await page.getByLabel(`Move ${stop} to`).selectOption({ label: "No round: leave it out" });
    assert.equal(await page.getByRole("button", { name: "Yes, do so" }).count(), 0);
    await press(page, "Show what follows");
    await page.getByRole("heading", { name: "What follows" }).waitFor();
    assert.equal((await service.ask("GET", "/plan")).rounds.find((one) => one.round === round).stops.some((one) => one.pinned), false);
    await press(page, "Yes, do so");
    await page.getByText(`${stop} is left out of ${round}.`).waitFor();
    await beside(page).getByRole("button", { name: `Move ${stop}`, exact: true }).waitFor({ state: "detached" });
  }

  async function confirm(page, { round }) {
    await page.getByRole("checkbox", { name: `Confirm ${round}` }).check();
    await press(page, "Confirm 1 round");
    await page.getByText("The homes read it now.").waitFor();
    await beside(page).getByRole("link", { name: "Picking list, delivery sheet, print" }).click();
    await page.getByRole("heading", { name: "To load" }).first().waitFor();
  }

  async function read_on_paper(page, kept) {
    await page.emulateMedia({ media: "print" });
    const paper = page.locator(".paper-round");
    await paper.waitFor();
    const text = await paper.innerText();
    for (const { lot, packs } of kept.picking) assert.ok(text.includes(lot) && text.includes(String(packs)), lot);
    for (const { stop, lines } of kept.stops) assert.ok(text.includes(stop) && lines.every((one) => text.includes(one.household)), stop);
    await page.emulateMedia({ media: "screen" });
  }

  async function bring(page, { round }) {
    for (const [button, said] of [["It is loaded", "loaded"], ["It has left", "on its way"]]) {
      await press(page, button);
      await page.getByText(`${round}: ${said}.`).waitFor();
    }
  }

  async function receive(page, household, pieces) {
    const there = await in_house(household);
    await at(page, `desk?${new URLSearchParams({ household })}`);
    await press(page, "The home has answered by telephone");
    await press(page, "The home says: all received");
    await page.getByText("It counts as stock now.").waitFor();
    assert.equal(await in_house(household), there + pieces);
    await beside(page).getByText("By lot and place").click();
  }

  async function recall(page, lot) {
    await at(page, `desk/lot?${new URLSearchParams({ lot, item: "cells" })}`);
    await press(page, `Recall lot ${lot}`);
    await press(page, "Yes, recall it");
    await page.getByRole("heading", { name: /^Recalled today/ }).waitFor();
  }

  /// A home with a stop on a round that is confirmed, and moves away meanwhile.
  async function close(page) {
    const { plan, rounds } = await service.ask("GET", "/plan");
    const { round, date, stops } = rounds.find((one) => one.state === "open" && one.stops.length > 0);
    await service.ask("POST", "/plan/confirm", { plan, rounds: [round] });
    const { household } = stops[0].lines[0];
    await at(page, `desk?${new URLSearchParams({ household })}`);
    await beside(page).getByRole("heading", { name: household, level: 2 }).waitFor();
    await press(page, "It moved, or the wearer died");
    await page.getByRole("alert").getByText("What would come back").waitFor();
    await press(page, "Yes, close it");
    await page.getByText(`${household} is closed: no reminders, no stops.`).waitFor();
    await beside(page).getByText(new RegExp(`^Stops that ended: .* ${Number(date.slice(8))} `)).waitFor();
    await beside(page).getByRole("button", { name: "Open it again" }).waitFor();
    assert.equal(await beside(page).count(), 1);
    assert.equal((await service.ask("GET", `/rounds/${encodeURIComponent(round)}`)).stops.some((one) => one.lines.some((line) => line.household === household)), false);
    await press(page, "Open it again");
    await beside(page).getByRole("button", { name: "It moved, or the wearer died" }).waitFor();
  }

  const lots_of = (rounds) => new Set(rounds.filter((one) => one.state === "open").flatMap((one) => one.stops).flatMap((one) => one.lines).flatMap((one) => one.lots).map((one) => one.lot));

  test("from the invitation to the shelf, a recalled lot leaves the plan, and a closed home its round", () =>
    browse(
      async (page) => {
        await come_in(page);
        await see_the_list(page);
        const chosen = await choose_round(page);
        await leave_one_out(page, chosen);
        await confirm(page, chosen);
        const kept = await service.ask("GET", `/rounds/${encodeURIComponent(chosen.round)}`);
        assert.equal(kept.stops.some((one) => one.stop === chosen.stops[0].stop), false);
        await read_on_paper(page, kept);
        await bring(page, chosen);
        const [line] = kept.stops[0].lines.filter((one) => one.item === "cells");
        await receive(page, line.household, line.pieces);
        await beside(page).getByText(`lot ${line.lots[0].lot}`).first().waitFor();
        const [lot] = lots_of((await service.ask("GET", "/plan")).rounds);
        await recall(page, lot);
        await page.getByRole("link", { name: "The agency's store", exact: true }).click();
        await page.getByRole("row", { name: new RegExp(`${lot}.*recalled: not planned, not loaded`) }).waitFor();
        await page.getByRole("link", { name: "The plan", exact: true }).click();
        await page.locator(".round-line").first().waitFor();
        const after_it = (await service.ask("GET", "/plan")).rounds;
        assert.ok(lots_of(after_it).size > 0 && !lots_of(after_it).has(lot), `${lot} is still planned`);
        await close(page);
      },
      { viewport: desk, timezoneId: "America/Lima" },
    ));
});
