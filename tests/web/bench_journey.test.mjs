// SPDX-License-Identifier: MIT
// One technician's day at the real service: in by an invitation and a passkey, a side with a finding, its evidence, taken on
// and closed with a reason; a profile from a pasted table, mended and proposed; a second person sees whose dates it would
// move, and approves. And that the stand-in, which the other tests of the bench meet, answers with the same fields.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { start_fake } from "./fake/server.mjs";
import { access_services } from "./support/access_services.mjs";
import { authenticator } from "./support/authenticator.mjs";
import { fields, lacking } from "./support/fields.mjs";
import { home_that_uses_more, measured_and_worn } from "./support/bench_home.mjs";
import { phones, press } from "./support/phone.mjs";
import { desk, sign_in_as } from "./support/staff.mjs";

const service_of = access_services.find((one) => one.name === "the service");
/// Invented: the first two rows of data/cells/lr6-duracell-industrial.json with seven tenths of their hours, then cells that
/// end nearly at once. Less is left in them than the same voltage means in the family's.
const rows = [[100, 1.2, 11.491], [100, 1.1, 17.798], [100, 1.0, 18.3], [100, 0.9, 18.5], [500, 1.0, 1.45], [500, 0.9, 1.5], [500, 0.8, 1.55]];
const table = ["current_mA\tcutoff_V\thours", ...rows.map(([load, cutoff, hours]) => `${load}\t${cutoff}\t${(0.7 * hours).toFixed(3)}`)].join("\n");

describe("a technician's day at the service", () => {
  const browse = phones();
  let service;
  let home;
  before(async () => {
    service = await service_of.start();
    home = await home_that_uses_more(service.ask);
  });
  after(() => service?.stop());

  const at = (page, hash) => page.evaluate((to) => (location.hash = to), hash);
  const of_home = async (state) => (await service.ask("GET", `/findings?household=${home.household}&state=${state}`)).findings;

  async function come_in(page) {
    await authenticator(page);
    await page.goto(await service.staff_link("technician"));
    await press(page, "Sign in this phone");
    await press(page, "Make a passkey");
    await page.getByRole("heading", { name: "Your recovery codes" }).waitFor();
    await page.getByRole("checkbox").check();
    await press(page, "Go on");
    await page.getByRole("heading", { name: "Findings", level: 1 }).waitFor();
  }

  async function open_the_side(page) {
    await at(page, "bench/sides");
    await page.getByRole("link", { name: `left side of ${home.household}` }).click();
    await page.getByRole("heading", { name: `${home.household}, left` }).waitFor();
    await page.locator(".drawing .u-over").nth(2).waitFor();
    assert.equal(await page.getByRole("region", { name: "Figures of each set" }).locator("tbody tr").count(), home.sets);
    await page.getByRole("region", { name: "Comparisons" }).getByText(/^Left against right, each against its own expectation: .* more/).waitFor();
  }

  async function see_a_change_where_it_happened(page) {
    await page.getByRole("link", { name: "Its right side" }).click();
    await page.getByRole("heading", { name: `${home.household}, right` }).waitFor();
    const newest = page.getByRole("region", { name: "Figures of each set" }).locator("tbody tr").first();
    await newest.getByText(/new settings on .*, while it was in/).waitFor();
    await page.goBack();
    await page.getByRole("heading", { name: `${home.household}, left` }).waitFor();
  }

  async function see_the_evidence(page, [finding]) {
    await page.locator(`[data-finding="${finding.id}"] h2 a`).click();
    await page.getByRole("heading", { name: "What was seen" }).waitFor();
    for (const one of finding.evidence) await page.getByText(one, { exact: true }).waitFor();
    await page.getByText(finding.verdict, { exact: true }).waitFor();
    const causes = page.getByRole("region", { name: "The causes" }).locator("tbody tr");
    assert.equal(await causes.count(), finding.causes.length);
    await page.getByText(finding.next[0].words, { exact: true }).waitFor();
  }

  async function take_on_and_close(page) {
    await press(page, "I take it on");
    await page.getByText("Recorded: taken on.").waitFor();
    assert.deepEqual((await of_home("open")).map((one) => one.state), ["taken_on"]);
    await press(page, "Close it, with a reason");
    await page.getByRole("radio", { name: /Looked for, nothing found/ }).check();
    await page.getByLabel("A note, if any").fill("Read off and measured.");
    await press(page, "Close it");
    await page.getByRole("heading", { name: "Closed" }).waitFor();
    await page.getByText(/nothing found. Read off and measured./).waitFor();
    const [closed] = await of_home("closed");
    assert.deepEqual([closed.history.at(-1).reason, closed.history.at(-1).note], ["nothing_found", "Read off and measured."]);
  }

  async function propose(page) {
    await at(page, "bench/cell");
    const field = page.getByLabel("The table, as it was copied");
    await field.fill(table.replace("500\t1", "500\t1.8"));
    await press(page, "Read it");
    await page.getByText(/^id: is empty/).waitFor();
    await page.getByLabel("Its name in the records").fill("lr6-family");
    await page.getByLabel("Title of the source").fill("An invented sheet");
    await press(page, "Read it");
    const problems = page.locator(".problems");
    await problems.getByText("Line 6, column 2").waitFor();
    assert.deepEqual(await problems.locator("mark").allTextContents(), ["1.8"]);
    await field.fill(table.replaceAll("\t", ",").replaceAll("0.9,", "0,9,"));
    await press(page, "Read it");
    await problems.getByText(/has 4 columns, more than the 3 of the head line. If commas are decimal ones/).first().waitFor();
    await field.fill(table);
    await press(page, "Read it");
    const residuals = page.getByRole("region", { name: "Residuals" }).locator("tbody tr");
    await residuals.first().waitFor();
    assert.equal(await residuals.count(), rows.length);
    await press(page, "Propose it");
    await page.getByRole("heading", { name: "Cell: lr6-family" }).waitFor();
    await page.getByText("You proposed it, so somebody else has to read and approve it.").waitFor();
    assert.equal(await page.getByRole("button", { name: "Approve it" }).count(), 0);
    return (await service.ask("GET", "/profile-proposals?state=waiting")).proposals[0].number;
  }

  async function approve(page, number) {
    await page.getByRole("link", { name: "Profiles" }).first().click();
    await page.getByRole("link", { name: "Cell: lr6-family" }).click();
    const moves = page.getByRole("region", { name: "Whose change by would move" });
    await moves.waitFor();
    const { effect } = await service.ask("GET", `/profile-proposals/${number}`);
    assert.ok(effect.moves.length > 0 && effect.moves.every((one) => one.household === home.household), JSON.stringify(effect));
    for (const one of effect.moves) await moves.getByText(one.text, { exact: true }).waitFor();
    await press(page, "Approve it");
    await page.getByRole("heading", { name: "Approved: version 1" }).waitFor();
    const { sides } = await service.ask("GET", `/households/${home.household}/forecast`);
    // An earlier date holds at once, a later one not before these cells are changed.
    for (const one of effect.moves) assert.equal(Date.parse(sides[one.side].change_by), Date.parse(one.later ? one.change_by_before : one.change_by_after));
  }

  test("from a side's finding to its end, and from a pasted table to an approved profile", { skip: !service_of.there }, () =>
    browse(
      async (page, browser) => {
        await come_in(page);
        await open_the_side(page);
        await see_a_change_where_it_happened(page);
        await see_the_evidence(page, await of_home("open"));
        await take_on_and_close(page);
        const number = await propose(page);
        const other = await browser.newContext({ viewport: desk });
        try {
          const second = await other.newPage();
          await come_in(second);
          await approve(second, number);
        } finally {
          await other.close();
        }
      },
      { viewport: desk },
    ));

  test("the stand-in has the service's fields, and no others", { skip: !service_of.there }, async () => {
    const fake = await start_fake(undefined, { locked: true });
    try {
      sign_in_as(fake, "technician");
      await measured_and_worn(service.ask, home.household);
      const of_fake = async (path) => (await fetch(`${fake.base}/api/v1${path}`)).json();
      const { number } = (await service.ask("GET", "/profile-proposals")).proposals.find((one) => one.kind === "cell");
      const pages = [
        ["/findings?state=all"], ["/units"], ["/units/u-9", "/units/u-31"], ["/lots-in-use"], ["/wear"], ["/profile-versions"], ["/profile-proposals"],
        ["/households/h-9/sides/right/history", "/households/h-0142/sides/left/history"], [`/profile-proposals/${number}`, "/profile-proposals/9"],
      ];
      for (const [real_path, fake_path = real_path] of pages) {
        const [real, told] = [fields(await service.ask("GET", real_path)), fields(await of_fake(fake_path))];
        assert.deepEqual(lacking(real, told), [], `${real_path}: the stand-in lacks these`);
        assert.deepEqual(lacking(told, real), [], `${fake_path}: the service has none of these`);
      }
    } finally {
      await fake.stop();
    }
  });
});
