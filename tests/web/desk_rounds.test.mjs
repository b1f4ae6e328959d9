// SPDX-License-Identifier: MIT
// Rounds at the planner's desk: a stop moved by hand only after its consequence was seen, confirming, two planners at
// once, a round on its day and on paper, rules, the store, and who cannot be served.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { day } from "./fake/planner/chance.mjs";
import { press } from "./support/phone.mjs";
import { at_the_desk } from "./support/staff.mjs";
import { evening } from "./support/states.mjs";

describe("rounds at the desk", () => {
  const there = at_the_desk();
  const { at } = there;
  const first_of = (area) => there.fake.desk.plan().rounds.filter((one) => one.area === area)[0];
  const to = (round) => `desk/plan?${new URLSearchParams({ round })}`;

  test("what follows from a move is shown before it can be kept, and a kept one is undone", async () => {
    const { round, stops } = first_of("fjord");
    await at(to(round), async (page) => {
      await page.getByRole("button", { name: `Move ${stops[0].stop}` }).click();
      await page.getByLabel(`Move ${stops[0].stop} to`).selectOption({ label: "No round: leave it out" });
      assert.equal(await page.getByRole("button", { name: "Yes, do so" }).count(), 0);
      await press(page, "Show what follows");
      await page.getByText("These would fall short").waitFor();
      assert.equal(there.fake.desk.decisions.length, 0);
      await press(page, "Yes, do so");
      await page.getByText(`${stops[0].stop} is left out of ${round}.`).waitFor();
      assert.equal(there.fake.desk.decisions.length, 1);
      await press(page, "Undo");
      await page.getByText("is as it was planned").waitFor();
      assert.equal(there.fake.desk.decisions.length, 0);
    })();
  });

  test("a stop that is not known is refused in words, and nothing is kept", async () => {
    await at(to(first_of("fjord").round), async (page) => {
      await press(page, "Add a stop by hand");
      await page.getByLabel(/Stop to add/).fill("S-none");
      await press(page, "Show what follows");
      await page.getByText("No household has the stop S-none.").waitFor();
      assert.equal(there.fake.desk.decisions.length, 0);
    })();
  });

  test("when another planner was first nothing is confirmed, and how it stands now is one press away", at("desk/plan", async (page) => {
    await page.locator(".round-line input").first().check();
    there.fake.desk.tag++;
    await press(page, "Confirm 1 round");
    await page.getByText("Another planner was first.").waitFor();
    assert.equal(there.fake.desk.kept.size, 0);
    await press(page, "Show how it stands now");
    await page.getByText("Another planner was first.").waitFor({ state: "detached" });
  }));

  test("a plan from before a restart says so plainly and keeps nothing; one press works it out again with the same ticks", at("desk/plan", async (page) => {
    await page.locator(".round-line input").first().check();
    there.fake.desk.restart();
    await press(page, "Confirm 1 round");
    await page.getByText("This plan was worked out before the service restarted; work it out again.").waitFor();
    assert.equal(there.fake.desk.kept.size, 0);
    await press(page, "Work it out again");
    await page.getByText("This plan was worked out before").waitFor({ state: "detached" });
    assert.equal(await page.locator(".round-line input").first().isChecked(), true);
    await page.getByRole("button", { name: "Confirm 1 round" }).waitFor();
    assert.equal(there.fake.desk.kept.size, 0);
  }));

  test("what would follow of a plan from before a restart is not shown; worked out again, it is, for the same move", async () => {
    const { round, stops } = first_of("fjord");
    await at(to(round), async (page) => {
      await page.getByRole("button", { name: `Move ${stops[0].stop}` }).click();
      await page.getByLabel(`Move ${stops[0].stop} to`).selectOption({ label: "No round: leave it out" });
      there.fake.desk.restart();
      await press(page, "Show what follows");
      await page.getByText("This plan was worked out before the service restarted").waitFor();
      assert.equal(await page.getByRole("button", { name: "Yes, do so" }).count(), 0);
      await press(page, "Work it out again");
      await page.getByText("This plan was worked out before").waitFor({ state: "detached" });
      await press(page, "Show what follows");
      await page.getByRole("button", { name: "Yes, do so" }).waitFor();
      assert.equal(there.fake.desk.decisions.length, 0);
    })();
  });

  test("a lot recalled after its round was planned is marked on the screen and on paper, and the round cannot leave with it", async () => {
    const { round } = first_of("north");
    await at(to(round), async (page) => {
      const planned = there.fake.desk.plan();
      there.fake.desk.confirm({ plan: planned.plan, rounds: [round] });
      const { lot } = there.fake.desk.round(round).body.picking.find((one) => one.item === "cells");
      there.fake.desk.lots.recall({ lot });
      await page.evaluate((hash) => (location.hash = hash), `desk/round?${new URLSearchParams({ round })}`);
      await page.getByRole("heading", { name: `Recalled: lot ${lot}` }).waitFor();
      await page.getByText(/does not leave with it\. Confirm it again from the plan/).waitFor();
      assert.equal(await page.getByRole("button", { name: "It is loaded" }).count(), 0);
      await page.getByRole("button", { name: "Cancel this round" }).waitFor();
      await page.emulateMedia({ media: "print" });
      await page.locator(".paper-round").getByText("Do not load").waitFor();
      await page.locator(".paper-round").getByText(`${lot}: recalled`).waitFor();
      there.fake.desk.lots.take_back({ lot });
      there.fake.desk.kept.delete(round);
      there.fake.desk.tag++;
    })();
  });

  test("a confirmed round is loaded, leaves, and comes back; and all of it stands on paper", async () => {
    const { round, stops } = first_of("fjord");
    await at("desk/plan?area=fjord", async (page) => {
      await page.locator(".round-line input").first().check();
      await press(page, "Confirm 1 round");
      await page.getByText("The homes read it now.").waitFor();
      await page.evaluate((hash) => (location.hash = hash), `desk/round?${new URLSearchParams({ round })}`);
      for (const [button, state] of [["It is loaded", "loaded"], ["It has left", "left"]]) {
        await press(page, button);
        await page.getByText(`${round}: ${state === "left" ? "on its way" : state}.`).waitFor();
        assert.equal(there.fake.desk.kept.get(round).state, state);
      }
      await press(page, "Undo");
      await page.getByText(`${round}: loaded, it has not left.`).waitFor();
      assert.equal(there.fake.desk.kept.get(round).state, "loaded");
      await press(page, "It has left");
      await page.getByText("What homes received stays received.").waitFor();
      await press(page, "It has not left: back to loaded");
      await page.getByText(`${round}: loaded.`).waitFor();
      await press(page, "It has left");
      await page.getByText(`${round}: on its way.`).waitFor();
      await page.emulateMedia({ media: "print" });
      const paper = page.locator(".paper-round");
      await paper.waitFor();
      const text = await paper.innerText();
      for (const { stop, lines } of stops) assert.ok(text.includes(stop) && lines.every((one) => text.includes(one.household) && text.includes(one.item)), stop);
      assert.equal(await page.getByRole("link", { name: "Back to the plan" }).isVisible(), false);
      assert.equal(await page.locator(".contents").isVisible(), false);
      await page.emulateMedia({ media: "screen" });
      await press(page, "It is back");
      await page.locator(".house-received").first().waitFor();
    })();
  });

  test("what did not come is back in the store or written off by one press, each undone, and put right later", async () => {
    const round = [...there.fake.desk.kept.values()].find((one) => one.state === "done");
    const { stop, lines } = round.stops.at(-1);
    const { household } = lines[0];
    const packs_are = () => there.fake.desk.whereabouts.get(`${household} ${round.round}`) ?? "not_known";
    await at(`desk/round?${new URLSearchParams({ round: round.round })}`, async (page) => {
      const section = page.getByRole("region", { name: "Did not come" });
      await section.getByText(`, stop ${stop}: `).waitFor();
      await section.getByText("Was the store counted since they came back?").waitFor();
      await section.getByRole("button", { name: new RegExp(`^They came back to the store.*${household}`) }).click();
      await page.getByText(`${household}: What did not come of ${round.round} is back in the agency's store.`).waitFor();
      assert.equal(packs_are(), "came_back");
      await press(page, "Undo");
      await page.getByText(`${household}: as it was before.`).waitFor();
      assert.equal(packs_are(), "not_known");
      await section.getByRole("button", { name: new RegExp(`^They are lost: write them off.*${household}`) }).click();
      await section.getByText("its packs are lost, and written off").waitFor();
      assert.equal(packs_are(), "lost");
      await section.getByRole("button", { name: new RegExp(`^That was a mistake: take it back.*${household}`) }).click();
      await section.getByRole("button", { name: new RegExp(`^They came back to the store.*${household}`) }).waitFor();
      assert.equal(packs_are(), "not_known");
    })();
  });

  test("an order that does not come is cancelled before its day, and undone", at("desk/store", async (page) => {
    const ordered = page.getByRole("row", { name: /C3.*on order, from/ });
    await ordered.getByRole("button", { name: /^Cancel this order.*200 packs of cells, lot C3/ }).click();
    await page.getByText("Cancelled: 200 packs of cells, lot C3 ordered.").waitFor();
    await ordered.waitFor({ state: "detached" });
    assert.equal(there.fake.desk.store.some((one) => one.lot === "C3"), false);
    await press(page, "Undo");
    await ordered.waitFor();
    assert.deepEqual(there.fake.desk.store.filter((one) => one.lot === "C3").map((one) => [one.packs, one.arrives, one.expires]), [[200, day(evening, 11), "2033-06"]]);
  }));

  test("an order that somebody else cancelled is refused in words", at("desk/store", async (page) => {
    const cancel = page.getByRole("button", { name: /^Cancel this order.*200 packs of cells, lot C3/ });
    await cancel.waitFor();
    const { store } = there.fake.desk;
    there.fake.desk.store = store.filter((one) => one.lot !== "C3");
    await cancel.click();
    await page.getByText("nothing of that lot is on order").waitFor();
    there.fake.desk.store = store;
  }));

  test("who cannot be served is told with reasons, and what would help by extra visits", at("desk/short", async (page) => {
    await page.getByText("every round in that time is full").first().waitFor();
    await page.getByRole("button", { name: /^What would help/ }).first().click();
    await page.locator(".remedies li").nth(3).waitFor();
    assert.equal(await page.locator(".remedies li").count(), 4);
    await page.getByText("1 extra visit").first().waitFor();
  }));

  test("a rule without a day is refused at its field, one with a day changes the plan, and its removal is undone", at("desk/calendar", async (page) => {
    await press(page, "Add rounds");
    await page.getByLabel("Name").fill("valley morning");
    await page.getByLabel(/^Area/).fill("valley");
    await press(page, "Keep these rounds");
    await page.locator(".error", { hasText: "A rule needs a weekday or a date." }).waitFor();
    await page.getByLabel("Mon").check();
    await press(page, "Keep these rounds");
    await page.getByText("Area valley, Mondays; up to 30 stops").waitFor();
    await page.getByRole("button", { name: "Remove valley morning" }).click();
    await press(page, "Undo");
    await page.getByText("Area valley, Mondays").waitFor();
    assert.equal(there.fake.desk.rules.at(-1).name, "valley morning");
  }));

  test("packs and the days ahead are changed, what is out of range is refused at its field, and it is undone", at("desk/calendar", async (page) => {
    await press(page, "Change packs and days ahead");
    await page.getByLabel("Pieces in a pack").first().fill("12");
    await page.getByLabel("Planned ahead").fill("3");
    await press(page, "Keep this");
    await page.locator(".error", { hasText: "is less than 7" }).waitFor();
    await page.getByLabel("Planned ahead").fill("28");
    await press(page, "Keep this");
    await page.getByText("cells: 12 pieces in 1 pack").waitFor();
    await page.getByText("Planned ahead: 28 days.").waitFor();
    assert.equal(there.fake.desk.rules.length > 0, true);
    await press(page, "Undo");
    await page.getByText("cells: 24 pieces in 1 pack").waitFor();
    assert.equal(there.fake.desk.horizon_days, 56);
  }));

  test("what came into the store stands in its lot at once", at("desk/store", async (page) => {
    await page.getByRole("radio", { name: "Came in" }).check();
    await page.getByLabel("Lot", { exact: true }).fill("E5");
    await page.getByLabel("Packs").fill("12");
    await press(page, "Record this");
    await page.getByRole("row", { name: /E5.*12.*288/ }).waitFor();
  }));

  test("what is on order stands beside its lot, and goes when it has come in", at("desk/store", async (page) => {
    const record = async (what, packs, arrives) => {
      await page.getByRole("radio", { name: what }).check();
      await page.getByLabel("Lot", { exact: true }).fill("A1");
      await page.getByLabel("Packs").fill(packs);
      if (arrives) await page.getByLabel("Arrives").fill(arrives);
      await press(page, "Record this");
    };
    await record("On order", "5", day(evening, 3));
    await page.getByRole("row", { name: /A1.*5.*120.*on order, from/ }).waitFor();
    await page.getByRole("row", { name: /A1.*96.*in the store/ }).waitFor();
    await record("Came in", "5");
    await page.getByRole("row", { name: /A1.*101.*in the store/ }).waitFor();
    assert.equal(await page.getByRole("row", { name: /A1.*on order/ }).count(), 0);
  }));

  test("an order whose day has passed is asked about", async () => {
    there.fake.desk.store.push({ item: "cells", lot: "L8", packs: 7, pieces_per_pack: 24, expires: null, arrives: day(evening, -3), recalled: false, expired: false });
    await at("desk/store", (page) => page.getByRole("row", { name: /L8.*was to come on .*: has it come\?/ }).waitFor())();
  });

  test("while forecasts are computed the plan says how many, and comes by itself", async () => {
    const { context, page } = await there.open("desk/store");
    try {
      let asked = 0;
      const not_yet = JSON.stringify({ type: "/problems/no-forecast-yet", title: "No forecast yet.", status: 503, computed: 120, of: 300 });
      await page.route("**/api/v1/plan", (route) => (asked++ === 0 ? route.fulfill({ status: 503, contentType: "application/problem+json", body: not_yet }) : route.continue()));
      await page.evaluate(() => (location.hash = "desk/plan"));
      await page.getByText("120 of 300 forecasts are computed").waitFor();
      await page.locator(".round-line").first().waitFor();
    } finally {
      await context.close();
    }
  });
});
