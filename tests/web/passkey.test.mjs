// SPDX-License-Identifier: MIT
// People of the agency: a passkey made and used with Chromium's virtual authenticator, and the codes printed once.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { authenticator } from "./support/authenticator.mjs";
import { access_services } from "./support/access_services.mjs";
import { phones, press } from "./support/phone.mjs";

/// COSE's numbers (RFC 9053): what the passkey signs with.
const algorithms = { ES256: -7, Ed25519: -8 };

for (const { name, start, there } of access_services) {
  describe(`a passkey at ${name}`, { skip: there ? false : "not built" }, () => {
    const phone = phones();
    let service;
    before(async () => {
      service = await start();
    });
    after(() => service?.stop());

    async function make_passkey(page) {
      await page.goto(await service.staff_link("administrator"));
      await press(page, "Sign in this phone");
      await page.getByRole("heading", { name: "Make your passkey" }).waitFor();
      await press(page, "Make a passkey");
      await page.getByRole("heading", { name: "Your recovery codes" }).waitFor();
    }

    async function go_on(page) {
      await page.getByRole("checkbox").check();
      await press(page, "Go on");
      await page.getByRole("heading", { name: "Office, administrator" }).waitFor();
    }

    for (const [algorithm, number] of Object.entries(algorithms)) {
      test(`of ${algorithm} is made from an invitation, its ten codes are shown once, and it signs in again`, () =>
        phone(async (page) => {
          await authenticator(page);
          await page.addInitScript((only) => {
            const make = navigator.credentials.create.bind(navigator.credentials);
            navigator.credentials.create = async ({ publicKey }) => {
              const made = await make({ publicKey: { ...publicKey, pubKeyCredParams: publicKey.pubKeyCredParams.filter(({ alg }) => alg === only) } });
              window.signs_with = made.response.getPublicKeyAlgorithm();
              return made;
            };
          }, number);
          await make_passkey(page);
          assert.equal(await page.evaluate(() => window.signs_with), number);
          assert.equal(await page.locator(".codes li").count(), 10);
          assert.ok(await page.getByRole("button", { name: "Go on" }).isDisabled(), "not before they are put away");
          await go_on(page);
          await page.context().clearCookies();
          await page.goto(service.base);
          await page.getByRole("heading", { name: "Sign in", exact: true }).waitFor();
          await press(page, "Sign in with a passkey");
          await page.getByRole("heading", { name: "Office, administrator" }).waitFor();
        }));
    }

    test("lost, is stood in for by a printed code, once", { skip: name === "the stand-in" ? "it keeps no printed codes" : false }, () =>
      phone(async (page) => {
        await authenticator(page);
        await make_passkey(page);
        const code = await page.locator(".codes li").first().textContent();
        await go_on(page);
        for (const works of [true, false]) {
          await page.context().clearCookies();
          await page.goto(`${service.base}/in`);
          await page.getByLabel("The code").fill(code);
          await press(page, "Use the code");
          if (works) await page.getByRole("heading", { name: "Office, administrator" }).waitFor();
          else await page.locator(".notice").waitFor();
        }
      }));

    test("that was not made says so, and can be tried again", () =>
      phone(async (page) => {
        await page.addInitScript(() => {
          navigator.credentials.create = () => Promise.reject(new DOMException("left", "NotAllowedError"));
        });
        await page.goto(await service.staff_link("administrator"));
        await press(page, "Sign in this phone");
        await press(page, "Make a passkey");
        await page.getByText("No passkey was made.").waitFor();
        await page.getByRole("button", { name: "Make a passkey" }).waitFor();
      }));

    test("is asked for once more before a further one is made, where the sign-in was a while ago", () =>
      phone(async (page) => {
        await authenticator(page);
        await make_passkey(page);
        await go_on(page);
        let asked = 0;
        const refusal = { type: "/problems/not-allowed", title: "This is not yours to do", status: 403, detail: "Sign in again.", sign_in_again: true };
        await page.route("**/api/v1/passkeys/options", (route) =>
          ++asked === 1 ? route.fulfill({ status: 403, contentType: "application/problem+json", body: JSON.stringify(refusal) }) : route.continue());
        await press(page, "A further passkey");
        await page.getByText("You signed in a while ago.").waitFor();
        await press(page, "Sign in with a passkey");
        await page.getByRole("button", { name: "Make a passkey" }).waitFor();
      }));

    test("lets an administrator add a further one, invite people of the agency, and end their way in", () =>
      phone(async (page) => {
        await authenticator(page);
        await make_passkey(page);
        await go_on(page);
        await press(page, "People of the agency");
        await page.getByText("Office: you").waitFor();
        await press(page, "Invite someone of the agency");
        await page.getByRole("radio", { name: "A technician" }).check();
        await page.getByLabel(/What to call it/).fill("Workshop");
        await press(page, "Make the invitation");
        const link = await page.locator(".link").textContent();
        const other = await page.context().browser().newContext({ serviceWorkers: "block" });
        const second = await other.newPage();
        await authenticator(second);
        await second.goto(link);
        await press(second, "Sign in this phone");
        await press(second, "Make a passkey");
        await second.getByRole("heading", { name: "Your recovery codes" }).waitFor();
        await press(page, "Done");
        await page.getByRole("button", { name: /End it.*Workshop/ }).click();
        await press(page, "Yes, end it");
        await page.getByText("Workshop").first().waitFor({ state: "detached" });
        await second.goto(service.base);
        await second.getByRole("heading", { name: "Sign in", exact: true }).waitFor();
        await other.close();
      }));
  });
}
