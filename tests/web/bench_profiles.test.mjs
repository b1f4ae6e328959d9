// SPDX-License-Identifier: MIT
// Profiles on the bench: a pasted table with its problems by line and column, measurements, handling steps; and that a second
// person approves.
import assert from "node:assert/strict";
import { test } from "node:test";
import { with_bench } from "./support/bench.mjs";

const press = (page, name) => page.getByRole("button", { name, exact: true }).click();
const table = "current_mA\tcutoff_V\thours\n25\t0.9\t104\n100\t0.9\t23.2\n250\t0.9\t7.6";

with_bench("profiles", ({ at_bench }) => {
  test("a pasted table is told its problems by line and column, mended, read, and proposed", at_bench("bench/cell", async (page, bench) => {
    await page.getByLabel("Its name in the records").fill("lr6-new");
    await page.getByLabel("Title of the source").fill("An invented sheet");
    await page.getByLabel("The table, as it was copied").fill(table.replace("0.9\t7.6", "1.8\tseven"));
    await press(page, "Read it");
    const problems = page.locator(".problems");
    await problems.getByText("Line 4, column 2").waitFor();
    await problems.getByText(/The cut-off of 1.8 V is not below the 1.65 V at which a fresh cell starts/).waitFor();
    assert.deepEqual(await problems.locator("mark").allTextContents(), ["1.8", "seven"]);
    assert.equal(await page.getByRole("button", { name: "Propose it" }).count(), 0);
    await page.getByLabel("The table, as it was copied").fill(table);
    await press(page, "Read it");
    const residuals = page.getByRole("region", { name: "Residuals" });
    await residuals.getByText("+2.6 %").waitFor();
    await press(page, "Propose it");
    await page.getByRole("heading", { name: "Cell: lr6-new" }).waitFor();
    await page.getByText("You proposed it, so somebody else has to read and approve it.").waitFor();
    assert.equal(await page.getByRole("button", { name: "Approve it" }).count(), 0);
    await press(page, "Take it back");
    await page.getByText("Taken back.").waitFor();
    assert.equal(bench.profiles.proposals[0].state, "refused");
  }));

  test("what was changed after it was read has to be read again", at_bench("bench/cell", async (page) => {
    await page.getByLabel("Its name in the records").fill("lr6-new");
    await page.getByLabel("Title of the source").fill("An invented sheet");
    await page.getByLabel("The table, as it was copied").fill(table);
    await press(page, "Read it");
    await page.getByRole("button", { name: "Propose it" }).waitFor();
    await page.getByLabel("Title of the source").fill("Another");
    await page.getByText("The form was changed since: read it again first.").waitFor();
    assert.ok(await page.getByRole("button", { name: "Propose it" }).isDisabled());
  }));

  test("what was typed is still there after a look elsewhere", at_bench("bench/cell", async (page, _, fake) => {
    await page.getByLabel("The table, as it was copied").fill(table);
    await page.goto(`${fake.base}/#bench/wear`);
    await page.getByRole("heading", { name: "Worn parts" }).waitFor();
    await page.goto(`${fake.base}/#bench/cell`);
    await page.getByLabel("Its name in the records").waitFor();
    assert.equal(await page.getByLabel("The table, as it was copied").inputValue(), table);
  }));

  test("a current in amperes is told in its row", at_bench("bench/measure?kind=unit&serial=u-31", async (page) => {
    assert.equal(await page.getByRole("textbox", { name: "Serial number" }).inputValue(), "u-31");
    await page.getByLabel("Amplitude, row 1").fill("4");
    await page.getByLabel("Current in mA, row 1").fill("0,07");
    await press(page, "Read it");
    await page.getByRole("cell", { name: /If it was read in amperes, write 70 mA/ }).waitFor();
    await page.getByLabel("Current in mA, row 1").fill("75.6");
    await press(page, "Read it");
    await press(page, "Propose it");
    await page.getByRole("heading", { name: "Unit: u-31" }).waitFor();
  }));

  test("a second person sees whose change by would move, that none moves later, and approves", at_bench("bench/profiles", async (page, bench) => {
    await page.getByRole("link", { name: "Cell: lr6-sample" }).click();
    await page.getByText(/It stays as it is until these cells are changed./).waitFor();
    await press(page, "Approve it");
    await page.getByRole("heading", { name: "Approved: version 1" }).waitFor();
    assert.equal(bench.profiles.proposals.at(-1).state, "approved");
    await page.getByRole("link", { name: "Profiles" }).first().click();
    await page.getByRole("row", { name: /lr6-sample/ }).getByText("in force").waitFor();
  }));

  test("nothing is approved before it is known whose change by would move: the button says why it waits, and then does not", at_bench("bench/profiles", async (page, bench) => {
    const proposal = bench.profiles.proposals[0];
    const { effect } = proposal;
    proposal.effect = { state: "computing", looked_at: 0, of: 0, moves: [], text: "It is being worked out whose dates it would move." };
    await page.getByRole("link", { name: "Cell: lr6-sample" }).click();
    const approve = page.getByRole("button", { name: "Approve it" });
    await page.getByText("It can be approved once it is known whose “change by” would move.").waitFor();
    assert.ok(await approve.isDisabled());
    assert.ok(await page.getByRole("button", { name: "Refuse it" }).isEnabled(), "refusing moves nothing");
    const why = await approve.getAttribute("aria-describedby");
    assert.match(await page.locator(`[id="${why}"]`).textContent(), /once it is known/);
    proposal.effect = effect; // the page asks again by itself
    await page.getByText(/It stays as it is until these cells are changed./).waitFor();
    assert.equal(await page.getByText(/It can be approved once/).count(), 0);
    // The service started anew meanwhile, and this page does not know.
    proposal.effect = { ...effect, state: "computing" };
    await approve.click();
    await page.getByText("Approve it once they are shown.", { exact: false }).waitFor();
    assert.equal(proposal.state, "waiting");
    await page.getByText("It can be approved once it is known whose “change by” would move.").waitFor();
    assert.ok(await approve.isDisabled());
    proposal.effect = effect;
    await page.waitForFunction(() => [...document.querySelectorAll("button")].some((one) => one.textContent === "Approve it" && !one.disabled));
    await press(page, "Approve it");
    await page.getByRole("heading", { name: "Approved: version 1" }).waitFor();
  }));

  test("handling steps are shown as homes will see them before they are proposed", at_bench("bench/steps", async (page) => {
    await page.getByLabel("Of which model").selectOption("invented");
    await page.getByLabel(/The steps, a line each/).fill("1. Open the lid of that side.\n2. Take out both cells.");
    await page.getByRole("heading", { name: "As homes will see them" }).waitFor();
    await press(page, "Read it");
    await page.getByText("2 steps were read.").waitFor();
  }));
});
