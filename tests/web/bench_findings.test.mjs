// SPDX-License-Identifier: MIT
// Findings on the technician's bench: what is listed, what one says of its cause, what becomes of it, and that each step
// can be undone.
import assert from "node:assert/strict";
import { test } from "node:test";
import { with_bench } from "./support/bench.mjs";

const of_step = "use/h-0142/left/2026-11-19T20:31:00Z";
const page_of = (id) => `bench/finding?id=${encodeURIComponent(id)}`;
const press = (page, name) => page.getByRole("button", { name, exact: true }).click();

with_bench("findings", ({ at_bench }) => {
  test("what nobody has closed is listed, with where, how much, how sure and its state", at_bench("", async (page) => {
    const row = page.locator(`[data-finding="${of_step}"]`);
    await row.getByText("+13 %").waitFor();
    await row.getByText("+7 to +19").waitFor();
    await row.getByText("Something is off: very probable, 93 %. The cause: cannot tell yet.").waitFor();
    await row.getByText("Not looked at").waitFor();
    assert.equal(await page.locator("[data-finding]").count(), 4);
    assert.equal(await page.getByText("The gauge of u-12 disagrees").count(), 0, "what is closed is not in the way");
  }));

  test("they are filtered by state, kind and place, and the choice stands in the address", at_bench("", async (page) => {
    await page.getByText("Closed 1", { exact: true }).click();
    await page.getByRole("link", { name: "The gauge of u-12 disagrees with the cells" }).waitFor();
    assert.match(page.url(), /state=closed/);
    await page.getByText("All 5", { exact: true }).click();
    await page.getByLabel("Where").fill("u-31");
    await page.getByText("1 finding shown").waitFor({ state: "attached" });
    await page.getByLabel("Where").fill("nowhere");
    await page.getByText("No finding here matches what is asked for.").waitFor();
  }));

  test("a home whose record cannot be read is named on findings, units, a unit and lots, as on the desk", at_bench("", async (page, bench) => {
    const named = page.getByText("Not in here: h-7 and h-9. What was recorded there cannot be read; the service's log says why.");
    await page.locator("[data-finding]").first().waitFor();
    assert.equal(await named.count(), 0);
    bench.left_out = ["h-7", "h-9"];
    for (const hash of ["bench/units", "bench/unit?serial=u-31", "bench/lots", "bench", page_of(of_step)]) {
      await page.evaluate((to) => (location.hash = to), hash);
      await page.waitForFunction((to) => location.hash === `#${to}`, hash);
      await named.waitFor();
      await page.evaluate(() => (location.hash = "bench/profiles"));
      await named.waitFor({ state: "detached" });
    }
  }));

  test("an empty list says that it is no proof", at_bench("", async (page, bench) => {
    bench.quiet = true;
    await page.reload();
    await page.getByText(/Nothing stands out in the records. That is no proof that nothing is wrong/).waitFor();
  }));

  test("until the first review since a start is made, no page says that nothing stands out or that nothing is recorded", at_bench("", async (page, bench) => {
    bench.begun = true;
    await page.reload();
    const under_way = page.getByText("The first review since the service started is being made. Until it is done, this page cannot tell whether anything stands out.");
    await under_way.waitFor();
    await page.getByText("301 households are still to be looked at.").waitFor();
    for (const hash of ["bench/units", "bench/lots", "bench/wear", page_of(of_step)]) {
      await page.evaluate((to) => (location.hash = to), "bench/profiles");
      await under_way.waitFor({ state: "detached" });
      await page.evaluate((to) => (location.hash = to), hash);
      await under_way.waitFor();
      assert.equal(await page.getByText(/Nothing stands out|No unit is recorded|has come out yet|was recorded yet|not there any more|Computed/).count(), 0, hash);
    }
    bench.begun = false;
    await page.reload();
    await page.getByText(/^Computed/).waitFor();
  }));

  test("where the cause cannot be told, that is said, with each probability and what would tell next", at_bench(page_of(of_step), async (page) => {
    await page.getByText(/^Cannot tell yet/).waitFor();
    const causes = page.getByRole("table", { name: /how probable each cause is/ });
    assert.deepEqual(await causes.locator("tbody .figure").allTextContents(), ["46\u00a0%", "38\u00a0%", "9\u00a0%", "5\u00a0%", "2\u00a0%"]);
    await page.getByText("It tells most of it (0.71 bit).").waitFor();
    assert.equal(await page.getByRole("link", { name: "Note what was read" }).getAttribute("href"), "#bench/side?household=h-0142&side=left&check=settings_read");
  }));

  test("changes that come too early have the probability of each cause and a next step like the rest", at_bench(page_of("early/h-0311/2026-11-02T20:30:00Z"), async (page) => {
    await page.getByText("Cannot tell the cause yet. Ask the home what makes it change when it does.").waitFor();
    const causes = page.getByRole("table", { name: /how probable each cause is/ });
    assert.equal(await causes.locator("tbody tr").count(), 6);
    await causes.getByRole("row", { name: /^The home changes its cells sooner than it needs to .*58/ }).waitFor();
    await page.getByRole("heading", { name: "What would tell them apart next" }).waitFor();
  }));

  test("it is seen, and that is undone", at_bench(page_of(of_step), async (page, bench) => {
    const state = () => bench.findings.find((one) => one.id === of_step).state;
    await press(page, "I have seen it");
    await page.getByText("Recorded: seen.").waitFor();
    assert.equal(state(), "seen");
    await press(page, "Undo");
    await page.getByText("Undone: it is as it was before.").waitFor();
    assert.equal(state(), "open");
  }));

  test("it is not closed without a reason, and closed with one it stays readable", at_bench(page_of(of_step), async (page, bench) => {
    await press(page, "Close it, with a reason");
    await press(page, "Close it");
    await page.getByText("Choose why it is closed.").waitFor();
    await page.getByRole("radio", { name: /Looked for, nothing found/ }).check();
    await page.getByLabel("A note, if any").fill("Swapped and measured.");
    await press(page, "Close it");
    await page.getByRole("heading", { name: "Closed" }).waitFor();
    await page.getByText(/nothing found. Swapped and measured./).waitFor();
    assert.equal(bench.findings.find((one) => one.id === of_step).history.at(-1).reason, "nothing_found");
    await page.getByText(/The right side of the same home/).waitFor();
  }));

  test("where somebody else was quicker that is told, and what they did is shown", at_bench(page_of(of_step), async (page, bench) => {
    const finding = bench.findings.find((one) => one.id === of_step);
    await page.getByRole("button", { name: "I take it on" }).waitFor();
    finding.newest = 99;
    finding.state = "taken_on";
    finding.history.push({ state: "taken_on", at: "2026-11-24T19:39:00Z", who: "another", reason: null, note: null, text: "Taken on by another technician." });
    await press(page, "I take it on");
    await page.getByText("Somebody else was quicker. Read it again.").waitFor();
    await page.getByRole("heading", { name: "Taken on" }).waitFor();
  }));
});
