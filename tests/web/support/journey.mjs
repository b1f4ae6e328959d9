// SPDX-License-Identifier: MIT
// Journeys through the page of a household: against every service of services.mjs, each journey with a household of its
// own; or against the stand-in alone, its clock stopped at the evening of states.mjs.
import { after, before, describe } from "node:test";
import { start_fake } from "../fake/server.mjs";
import { phones, stock } from "./phone.mjs";
import { services, signed_in_at } from "./services.mjs";
import { evening } from "./states.mjs";

/// `tests` is given what makes a test of a journey; and, for what begins otherwise, a phone and the running service.
export function with_each_service(title, tests) {
  for (const { name, start, there } of services) {
    describe(`${title} ${name}`, { skip: there ? false : "not built" }, () => {
      const phone = phones();
      let service;
      before(async () => {
        service = await start();
      });
      after(() => service?.stop());
      const journey = (work) => () =>
        phone(async (page) => {
          const household = await service.household();
          await service.let_in(page, household);
          await page.goto(`${service.base}/h/${household}`);
          await stock(page).locator(".sentence").waitFor();
          await work(page, household);
        });
      tests({ journey, phone, service: () => service });
    });
  }
}

/// Called inside `describe`: what makes a test of a household of the stand-in.
export function on_the_evening() {
  const phone = phones();
  let fake;
  before(async () => {
    fake = await start_fake(() => evening);
  });
  after(() => fake?.stop());
  const reading = (household, work, options) => () =>
    phone(async (page) => {
      await page.clock.setFixedTime(evening);
      await page.goto(`${fake.base}/h/${household}`);
      await stock(page).waitFor();
      await work(page);
    }, options);
  return { reading, base: () => fake.base };
}

export async function entries_of(base, household) {
  const answer = await fetch(`${base}/api/v1/households/${household}/entries?limit=50`, { headers: signed_in_at(base) });
  return (await answer.json()).entries;
}
