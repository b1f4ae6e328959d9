// SPDX-License-Identifier: MIT
// Signing in and phones of the home, against the stand-in that asks everyone to sign in, and against the real service where
// it was built.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { start_fake } from "./fake/server.mjs";
import { objections } from "./support/axe.mjs";
import { access_services } from "./support/access_services.mjs";
import { open_phone } from "./support/browser.mjs";
import { choose, phones, press, side, stock } from "./support/phone.mjs";
import { picture_of } from "./support/square_code.mjs";


const clock_at_home = (hours_later) => new Intl.DateTimeFormat("en-GB", { timeZone: "Europe/Oslo", hour: "2-digit", minute: "2-digit", hourCycle: "h23" }).format(Date.now() + hours_later * 3_600_000);

for (const { name, start, there } of access_services) {
  describe(`signing in to ${name}`, { skip: there ? false : "not built" }, () => {
    const phone = phones();
    let service;
    before(async () => {
      service = await start();
    });
    after(() => service?.stop());

    const bind = async (page, household, label) => {
      await page.goto(await service.phone_link(household));
      await page.getByLabel(/A label for this phone/).fill(label);
      await press(page, "Sign in this phone");
      await page.getByText(`In the records it is called ${label}.`).waitFor();
      await press(page, "Open the page of the home");
      await stock(page).waitFor();
    };
    const bound = (work, options) => () =>
      phone(async (page, browser) => {
        const household = await service.household();
        await bind(page, household, "Kitchen phone");
        await work(page, household, browser);
      }, options);

    test("an invitation binds a phone under a label, and its code stays in no address", () =>
      phone(async (page) => {
        const household = await service.household();
        const link = await service.phone_link(household);
        await page.goto(link);
        await page.getByLabel(/A label for this phone/).fill("Kitchen phone");
        assert.ok(!page.url().includes(link.split("#")[1]), page.url());
        await press(page, "Sign in this phone");
        await press(page, "Open the page of the home");
        await stock(page).waitFor();
        assert.ok(page.url().endsWith(`/h/${household}`), page.url());
        await press(page, "Phones of this home");
        await page.getByText("Kitchen phone: this phone").waitFor();
      }));

    test("a used invitation says what to do now", bound(async (page) => {
      await page.goto(`${service.base}/in#${"A".repeat(27)}`);
      await press(page, "Sign in this phone");
      await page.getByText("This invitation was used already, or its time is over.").waitFor();
      await page.getByText(/Ask for a new one/).waitFor();
    }));

    test("without signing in no forecast is shown, and help is one tap away", () =>
      phone(async (page) => {
        await page.goto(`${service.base}/h/calm-x`);
        await page.getByRole("heading", { name: "This phone is not signed in." }).waitFor();
        assert.equal(await page.locator("[data-side]").count(), 0);
        await page.getByText("In doubt: fresh cells in both sides.").waitFor();
        await page.getByRole("link", { name: "Something is wrong now" }).click();
        await page.getByText("Start the backup ventilation, as prescribed.").waitFor();
      }));

    test("a record made while signed out is kept, and sent once after signing in again", bound(async (page, household) => {
      const changes = () => page.evaluate((at) => fetch(at).then((answer) => answer.json()), `/api/v1/households/${household}/entries?limit=50`).then(({ entries }) => entries.filter((one) => one.kind === "cell_change").length);
      const before_it = await changes();
      await service.end_phones(household);
      await press(page, "Cells changed");
      await choose(page, "Right");
      await choose(page, /Lot 7Q/);
      await press(page, "Record this");
      await page.getByRole("heading", { name: "This phone is not signed in." }).waitFor();
      await page.getByText(/^1 record is kept on this phone, not sent yet\./).waitFor();
      assert.equal(await page.locator("[data-side]").count(), 0);
      await bind(page, household, "Kitchen phone");
      await side(page, "right").getByText("Recorded:").waitFor();
      assert.equal(await changes(), before_it + 1);
    }));

    test("the square code of an invitation is its link, and the other phone gets in with it", bound(async (page, household, browser) => {
      await press(page, "Phones of this home");
      await press(page, "Invite another phone");
      await choose(page, /A guest/);
      await page.getByLabel(/What to call it/).fill("School phone");
      await press(page, "Make the invitation");
      await page.getByText("Choose the last day, from today on.").waitFor();
      const hours = [clock_at_home(-1), clock_at_home(1)];
      await page.getByLabel("Each day from").fill(hours[0]);
      await page.getByLabel("to", { exact: true }).fill(hours[1]);
      await page.getByLabel("Last day").fill("2090-12-18");
      await press(page, "Make the invitation");
      const link = await page.locator(".link").textContent();
      assert.equal(await picture_of(page.locator(".qr"), browser), link);
      const other = await open_phone(browser);
      const second = await other.newPage();
      await second.goto(link);
      await press(second, "Sign in this phone");
      await second.getByText(`It reads and records between ${hours[0]} and ${hours[1]}, by the clock at the home.`).waitFor();
      await press(second, "Open the page of the home");
      await stock(second).waitFor();
      await second.getByLabel("What to record").getByRole("button", { name: "Note a reading" }).waitFor();
      await second.getByRole("button", { name: "Going away" }).waitFor({ state: "detached" });
      await press(page, "Done");
      await page.getByText(new RegExp(`^Guest, ${hours[0]} to ${hours[1]}, until Mon 18 Dec`)).waitFor();
      await page.getByRole("button", { name: /End it.*School phone/ }).click();
      await press(page, "Yes, end it");
      await page.getByText("School phone").first().waitFor({ state: "detached" });
      await second.reload();
      await second.getByRole("heading", { name: "This phone is not signed in." }).waitFor();
      await other.close();
    }));

    test("a sealed code ends the other phones, tells them why, and asks for a new one", bound(async (page, household, browser) => {
      await press(page, "Phones of this home");
      await page.getByRole("button", { name: /A sealed recovery code/ }).click();
      await press(page, "Make a new code");
      const code = await page.locator(".code").textContent();
      const other = await open_phone(browser);
      const second = await other.newPage();
      await second.goto(`${service.base}/in`);
      await second.getByLabel("The code").fill(`H${code.slice(1).replace(/[A-Z\d](?=[A-Z\d-]*$)/, "")}`);
      await press(second, "Use the code");
      await press(second, "Yes, use the code");
      await second.getByText("This code does not work.").waitFor();
      await second.getByLabel("The code").fill(code);
      await press(second, "Use the code");
      await second.getByText("All other phones of this home will be signed out, and told why.").waitFor();
      await press(second, "Yes, use the code");
      await second.getByRole("button", { name: "Make a new code" }).waitFor();
      await page.goto(`${service.base}/h/${household}`);
      await page.getByText(/The sealed recovery code of this home was used/).waitFor();
      await other.close();
    }));

    test("signing out says what is lost before it is lost", bound(async (page, household) => {
      await page.route("**/cell-changes", (route) => route.abort());
      await press(page, "Cells changed");
      await choose(page, "Right");
      await choose(page, /Lot 7Q/);
      await press(page, "Record this");
      await side(page, "right").getByText("not sent yet.").waitFor();
      await page.goto(`${service.base}/h/${household}#sign_out`);
      await page.getByText("Not sent yet, and lost by signing out:").waitFor();
      await press(page, "Sign out and lose them");
      await page.getByRole("heading", { name: "Sign in", exact: true }).waitFor();
    }));

    test("outside a guest's hours nothing is shown, and that is said", () =>
      phone(async (page) => {
        const clock = (hours) => new Intl.DateTimeFormat("en-GB", { timeZone: "Europe/Oslo", hour: "2-digit", minute: "2-digit", hourCycle: "h23" }).format(Date.now() + hours * 3_600_000);
        const hours = { from: clock(3), to: clock(5) };
        const link = await service.phone_link(await service.household(), { role: "guest", label: "School phone", hours, until: "2090-01-01T00:00:00+01:00" });
        await page.goto(link);
        await press(page, "Sign in this phone");
        await press(page, "Open the page of the home");
        await page.getByRole("heading", { name: "Outside the hours of this phone." }).waitFor();
        await page.getByText(new RegExp(`${hours.from}.*${hours.to}`)).first().waitFor();
      }));
  });
}

describe("how signing in looks", () => {
  const phone = phones();
  let fake;
  before(async () => {
    fake = await start_fake(undefined, { locked: true });
  });
  after(() => fake.stop());

  for (const [what, options] of Object.entries({ light: {}, "320 px, dark": { colorScheme: "dark", viewport: { width: 320, height: 568 } } })) {
    test(`axe finds nothing on any of its screens (${what}), and each fits`, () =>
      phone(async (page) => {
        await page.goto(fake.access.invite({ role: "household", household: "due-1", label: "Kitchen phone" }, fake.base).link);
        await press(page, "Sign in this phone");
        await page.getByText(/^In the records it is called/).waitFor();
        for (const at of ["#wrong", "#phones", "#invite", "#sealed_code", "#sign_out", "#card"].map((hash) => `/h/due-1${hash}`).concat("/in", `/in#${"A".repeat(27)}`)) {
          await page.goto("about:blank");
          await page.goto(fake.base + at);
          await page.locator("h1:not(.unseen)").waitFor();
          assert.deepEqual((await objections(page)).map((one) => `${at}: ${one}`), []);
        }
      }, options));
  }
});

describe("signing in too often", () => {
  const phone = phones();

  test("says how long to wait, and that signed-in phones are not held up", () =>
    phone(async (page) => {
      const fake = await start_fake(undefined, { locked: true });
      try {
        await page.goto(`${fake.base}/in`);
        await page.getByLabel("The code").fill("too-often");
        await press(page, "Use the code");
        await page.getByText(/Wait 40 seconds, then try again/).waitFor();
      } finally {
        await fake.stop();
      }
    }));
});
