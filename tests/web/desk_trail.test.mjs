// SPDX-License-Identifier: MIT
// The audit trail at the desk: whole, broken, erased, part by part, a head from before, and who may not see it.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { describe, test } from "node:test";
import { press } from "./support/phone.mjs";
import { load_source } from "./support/source.mjs";
import { at_the_desk, sign_in_as } from "./support/staff.mjs";

describe("the audit trail at the desk", () => {
  const there = at_the_desk();
  const line = (page, number) => page.locator(".trail-links > li").filter({ has: page.locator(".trail-number span", { hasText: new RegExp(`^${number}$`) }) });

  /// As an administrator, with a trail of one's own.
  const at = (hash, work, role = "administrator") => async () => {
    const { fake } = there;
    const me = sign_in_as(fake, role, "Front desk");
    const { trail } = fake;
    Object.assign(trail, { broken: null, failing: false, asked: 0 });
    for (const one of trail.links) for (const name of ["who", "subject"]) if (one[name] === trail.office) one[name] = me.account;
    trail.office = me.account;
    const { context, page } = await there.open(hash);
    try {
      await work(page, trail, me);
    } finally {
      await context.close();
    }
  };

  test("says that it is whole, from which link to which and as of when, and has its head to write down", at("desk/trail", async (page, trail) => {
    await page.getByRole("heading", { name: "The trail is whole." }).waitFor();
    await page.getByText(`from number 1 to ${trail.links.length}, and every record`).waitFor();
    await page.getByText("As of today").waitFor();
    const head = await page.locator(".head-line").innerText();
    assert.equal(head.replace(/\s/g, ""), `Link${trail.links.length}${trail.links.at(-1).hash}`);
    assert.equal(await page.locator(".trail-broken").count(), 0);
    await page.getByText("What the trail cannot show").click();
    await page.getByText(/Sessions, invitations, passkeys.*are not in it/).waitFor();
    assert.equal(await page.title(), "Audit trail · Cellarer");
  }));

  test("looks again when it is told to", at("desk/trail", async (page, trail) => {
    await page.getByRole("heading", { name: "The trail is whole." }).waitFor();
    trail.broken = "link 255 of the chain of agency was changed";
    await press(page, "Look again");
    await page.getByRole("heading", { name: "The trail is broken." }).waitFor();
    assert.equal(trail.asked, 2);
  }));

  test("waits for a long trail, whose links stand there meanwhile", at("desk/in_out", async (page) => {
    let answer = () => undefined;
    await page.route("**/api/v1/audit?limit=1", async (route) => {
      await new Promise((resolve) => (answer = resolve));
      await route.continue();
    });
    await page.evaluate(() => (location.hash = "desk/trail"));
    await page.getByRole("heading", { name: "The newest links" }).waitFor();
    await page.clock.runFor(60_000);
    await page.getByText("Asking for the trail, which is computed anew from its first link…").waitFor();
    answer();
    await page.getByRole("heading", { name: "The trail is whole." }).waitFor();
  }));

  test("says where it breaks and what to do, and marks that link", at("desk/trail", async (page, trail) => {
    trail.broken = "entry 9 of household agency/h-000175 was changed (link 155 of the chain of agency)";
    await press(page, "Look again");
    await page.getByRole("heading", { name: "The trail is broken." }).waitFor();
    await page.getByText(`${trail.broken}.`).waitFor();
    for (const step of [/^Call whoever runs the service/, /^Keep all backups/, /cellarer check --data DIR/, /fresh cells in both sides/]) await page.getByRole("listitem").filter({ hasText: step }).waitFor();
    assert.equal(await page.getByText("every record that is kept agrees").count(), 0);
    assert.equal(await page.locator(".trail-links .line-urgent").count(), 0);
    await page.getByRole("link", { name: "Link 155 in the list" }).click();
    await page.locator(".trail-links .line-urgent", { hasText: "The break is told of this link." }).waitFor();
    assert.match(await page.locator(".trail-links .line-urgent").innerText(), /^155/);
  }));

  test("tells each link in plain words, with its household, and whoever did it by the label", at("desk/trail", async (page, trail, me) => {
    const told = async (wanted) => line(page, trail.links.findLast(wanted).number).innerText();
    await page.getByRole("heading", { name: "The newest links" }).waitFor();
    await page.getByText("by Front desk, administrator").first().waitFor();
    assert.match(await told((one) => one.action === "signed-in"), /Signed in\s+by Front desk, administrator/);
    assert.match(await told((one) => one.action === "planned_delivery" && one.who === me.account), /Delivery planned: entry \d+\s+h-\d+\s+by Front desk, administrator/);
    assert.match(await told((one) => one.action === "learned"), /Learned from all households\s+by the service or a command/);
    assert.match(await told((one) => one.action === "agency.something_new"), /agency\.something_new: as it is/);
    assert.match(await told((one) => one.who?.startsWith("pH0ne")), /by account pH0neOfA…/);
    const of_home = trail.links.findLast((one) => one.household);
    assert.equal(await line(page, of_home.number).getByRole("link").getAttribute("href"), `#desk?household=${of_home.household}`);
    await line(page, of_home.number).getByRole("link").click();
    await page.locator(".with-beside").getByRole("heading", { name: of_home.household }).waitFor();
  }));

  test("says of an erased record that it was erased, and shows its hashes whole on demand", at("desk/trail", async (page, trail) => {
    const erased = trail.links.findLast((one) => one.erased);
    await line(page, erased.number).getByText("Erased with its household. Only its hashes are left.").waitFor();
    assert.doesNotMatch(await line(page, erased.number).innerText(), /null|by /);
    await page.getByText("Household erased").waitFor();
    assert.equal(await page.locator("body").getByText(erased.hash).count(), 0);
    await press(page, "Show whole hashes and ids");
    assert.deepEqual(await line(page, erased.number).locator(".hash").allTextContents(), [erased.hash, erased.content_hash]);
    await press(page, "Show hashes and ids short");
    assert.deepEqual(await line(page, erased.number).locator(".hash").allTextContents(), [`${erased.hash.slice(0, 8)}…`]);
  }));

  test("goes to older links part by part, each at an address of its own, and the way back leads to those before", at("desk/trail", async (page, trail) => {
    const numbers = async () => (await page.locator(".trail-number > span").allTextContents()).map(Number);
    const count = trail.links.length;
    await page.getByRole("heading", { name: "The newest links" }).waitFor();
    assert.equal((await numbers())[0], count);
    await page.getByRole("link", { name: "Older" }).click();
    await page.getByRole("heading", { name: `Links ${count - 100} to ${count - 199}` }).waitFor();
    assert.equal(await page.evaluate(() => document.activeElement.id), "links-name");
    assert.ok(page.url().endsWith(`#desk/trail?before=${count - 99}`));
    await page.getByRole("link", { name: "Older" }).click();
    await page.getByText("This is the beginning of the trail.").waitFor();
    assert.equal((await numbers()).at(-1), 1);
    assert.equal(trail.asked, 1);
    await page.goBack();
    await page.getByRole("heading", { name: `Links ${count - 100} to ${count - 199}` }).waitFor();
    await page.getByRole("link", { name: "The newest", exact: true }).click();
    await page.getByRole("heading", { name: "The newest links" }).waitFor();
  }));

  test("holds a head from before against its link: the same, another, or one that is not there any more", at("desk/trail", async (page, trail) => {
    const compare = async (number, hash) => {
      await page.getByLabel("Number of the link").fill(String(number));
      await page.getByLabel("Its hash as you noted it").fill(hash);
      await press(page, "Compare");
    };
    const { hash } = trail.links[41];
    await compare(42, ` ${hash.toUpperCase().match(/.{8}/g).join(" ")} `);
    await page.getByText("The hash of link 42 is the one that you noted.").waitFor();
    await compare(42, hash.slice(0, 12));
    await page.getByText("The hash of link 42 begins with the 12 signs that you noted.").waitFor();
    await compare(43, hash);
    await page.getByText("Link 43 has another hash than the one you noted.").waitFor();
    await compare(trail.links.length + 5, hash);
    await page.getByText(`There is no link ${trail.links.length + 5}: the trail ends at ${trail.links.length}.`).waitFor();
    await page.getByLabel("Its hash as you noted it").fill("abc");
    assert.ok(await page.getByRole("button", { name: "Compare" }).isDisabled());
    await compare(42, hash);
    await page.getByRole("link", { name: "Link 42 in the list" }).click();
    await page.getByRole("heading", { name: "Links 42 to 1" }).waitFor();
  }));

  test("says that nothing is known while the service is busy, and has another attempt", at("desk/in_out", async (page, trail) => {
    trail.failing = true;
    await page.evaluate(() => (location.hash = "desk/trail"));
    await page.getByText("Whether the trail is whole is not known now.").waitFor();
    assert.equal(await page.getByText("The service is busy.").count(), 2);
    assert.equal(await page.getByText("The trail is whole.").count(), 0);
    trail.failing = false;
    await page.getByRole("button", { name: "Try again" }).first().click();
    await page.getByRole("heading", { name: "The trail is whole." }).waitFor();
    await page.getByRole("button", { name: "Try again" }).click();
    await page.getByRole("heading", { name: "The newest links" }).waitFor();
    assert.equal(await page.getByText("is not known now").count(), 0);
  }));

  test("is saved as a table of the links that are shown", at("desk/trail", async (page, trail) => {
    await page.getByRole("heading", { name: "The newest links" }).waitFor();
    await page.getByText("by Front desk").first().waitFor();
    const [file] = await Promise.all([page.waitForEvent("download"), press(page, "These as a CSV file")]);
    const count = trail.links.length;
    assert.equal(file.suggestedFilename(), `audit-trail-${count}-to-${count - 99}.csv`);
    const lines = (await readFile(await file.path(), "utf8")).trimEnd().split("\r\n");
    assert.equal(lines.length, 101);
    assert.ok(lines[1].endsWith(trail.links.at(-1).hash));
  }));

  test("says that a trail without links is empty", at("desk/in_out", async (page, trail) => {
    const kept = trail.links;
    trail.links = [];
    await page.evaluate(() => (location.hash = "desk/trail"));
    await page.getByText("Nothing is in the trail yet. It begins").waitFor();
    trail.links = kept;
  }));

  test("is neither named to a planner nor asked for at its address", at("desk", async (page, trail) => {
    await page.getByRole("link", { name: "In and out" }).waitFor();
    assert.equal(await page.getByRole("link", { name: "Audit trail" }).count(), 0);
    const asked = [];
    page.on("request", (request) => asked.push(request.url()));
    await page.evaluate(() => (location.hash = "desk/trail"));
    await page.getByText("An administrator of the agency may read it. Your way in may not.").waitFor();
    assert.deepEqual(asked.filter((url) => url.includes("/audit")), []);
    assert.equal(trail.asked, 0);
  }, "planner"));
});

test("a cell of the table that a program would run is not run, and one with a comma is one cell", async () => {
  const { csv_of } = await load_source("desk/trail/csv");
  const link = { number: 7, erased: false, content_hash: "c", hash: "h", at: "2026-11-24T19:40:00Z", who: "w", action: "agency.round", subject: '=1+1, "north"', household: null };
  const line = csv_of([link], new Map([["w", { account: "w", label: "-Office", role: "planner" }]])).split("\r\n")[1];
  assert.equal(line, `7,2026-11-24T19:40:00Z,agency.round,Round planned or moved on,"'=1+1, ""north""",,w,'-Office,false,c,h`);
});

test("every action that the service writes has its words", async () => {
  const { action_words } = await load_source("desk/trail/link_words");
  const read = (path) => readFile(new URL(`../../server/${path}`, import.meta.url), "utf8");
  const kinds = async (path) => [...(await read(path)).matchAll(/inline constexpr const char\* \w+ = "(\w+)";/g)].map(([, kind]) => kind);
  const [fold, desk, events] = [await kinds("service/fold.hpp"), await kinds("service/desk_kinds.hpp"), await Promise.all(["store/sqlite_accounts.cpp", "store/sqlite_keys.cpp", "store/sqlite_sessions.cpp"].map(read))];
  const of_agency = [...(await kinds("service/lot_facts.hpp")), ...(await kinds("service/bench_journal.hpp")), ...(await kinds("service/agency_help.hpp")), ...(await kinds("service/profile_journal.hpp")), "import", "rounds_feed"];
  const done = events.flatMap((text) => [...text.matchAll(/note_event\([^;]*"([a-z-]+)"/g)].map(([, action]) => action));
  const journal = ["round", "round_calendar", "agency_stock"];
  const all = [...fold, ...desk.filter((one) => !journal.includes(one)), ...[...of_agency, ...journal].map((one) => `agency.${one}`), ...done, "household", "exported", "erased", "learned", "taken-over", "agency-made"];
  assert.ok(fold.length > 20 && desk.length > 10 && done.length > 4 && of_agency.length > 6, `${[fold, desk, done, of_agency].map((one) => one.length)}`);
  assert.deepEqual(all.filter((one) => action_words(one) === one), []);
});
