// SPDX-License-Identifier: MIT
// A reminder handed to the browser's own service worker, as a push service would: it is shown in the language of this phone's
// pages, confirmed, said on the page of reminders, and taken away once recorded.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { setTimeout as pause } from "node:timers/promises";
import { start_fake } from "./fake/server.mjs";
import { phones, press, stock } from "./support/phone.mjs";

const told = { kind: "reminder", reminder: "r-1", household: "calm-pushed", tag: "left", title: "Cellarer", body: "Something to do before tonight. Open the page.", urgent: true, url: "/h/calm-pushed" };

describe("a reminder that reaches the phone", () => {
  const phone = phones();
  let fake;
  before(async () => {
    fake = await start_fake();
  });
  after(() => fake?.stop());

  /// What hands messages to the worker of this page.
  async function push_service(page) {
    const devtools = await page.context().newCDPSession(page);
    const registered = new Promise((found) => devtools.on("ServiceWorker.workerRegistrationUpdated", ({ registrations }) => registrations[0] && found(registrations[0].registrationId)));
    await devtools.send("ServiceWorker.enable");
    const registrationId = await registered;
    return (message) => devtools.send("ServiceWorker.deliverPushMessage", { origin: fake.base, registrationId, data: JSON.stringify(message) });
  }

  /// This browser, which has no windows, shows no notifications: the worker's are kept in a list in their place.
  async function shown_in(page) {
    const [worker] = page.context().serviceWorkers();
    await worker.evaluate(() => {
      self.shown = [];
      self.registration.showNotification = async (title, { body, tag }) => void (self.shown = [...self.shown.filter((one) => one.tag !== tag), { title, body, tag }]);
      self.registration.getNotifications = async ({ tag }) => self.shown.filter((one) => one.tag === tag).map((one) => ({ ...one, close: () => (self.shown = self.shown.filter((other) => other !== one)) }));
    });
    return () => worker.evaluate(() => self.shown);
  }

  async function until(holds, why) {
    for (let tries = 0; tries < 100; tries++) {
      if (await holds()) return;
      await pause(100);
    }
    assert.fail(why);
  }

  test("is shown, confirmed, and gone once recorded", () =>
    phone(async (page) => {
      const reminders = fake.reminders_of("calm-pushed");
      reminders.state.this_phone = { part: "first", since: new Date().toISOString(), last_sent_at: null, last_confirmed_at: null };
      await page.goto(`${fake.base}/h/calm-pushed`);
      await stock(page).waitFor();
      await page.waitForFunction(() => navigator.serviceWorker.controller);
      const [push, shown] = [await push_service(page), await shown_in(page)];
      await push(told);
      await until(async () => (await shown()).length === 1, "nothing is shown");
      assert.deepEqual(await shown(), [{ title: "Cellarer", body: "Algo que hacer antes de esta noche. Abra la página.", tag: "left" }]);
      await until(() => reminders.confirmed.includes("r-1"), "it is not confirmed");
      await press(page, "Recordatorios");
      await page.getByText(/^Este teléfono confirmó uno por última vez hoy a las? \d\d:\d\d\.$/).waitFor();
      await push({ ...told, kind: "gone", body: "Recorded meanwhile." });
      await until(async () => (await shown()).length === 0, "it still stands on the phone");
    }, { serviceWorkers: "allow", locale: "es-ES" }));
});
