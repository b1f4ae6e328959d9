// SPDX-License-Identifier: MIT
// What the real service refuses of a home's records, told in Spanish: each title and each reason has its words there.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { after, before, describe, test } from "node:test";
import { services, signed_in_at } from "./support/services.mjs";
import { load_source } from "./support/source.mjs";

const { start, there } = services.find(({ name }) => name === "the service");
const read = (section) => JSON.parse(readFileSync(new URL(`../../web/src/words/catalogue/es/${section}.json`, import.meta.url), "utf8"));
const source = await load_source("words/language", "words/told", "words/spanish");

const at = "2026-03-01T21:30:00+01:00", later = "2026-03-02T21:30:00+01:00";
const settings = { from: at, side: "left", rate_per_min: 12, inspiratory_fraction: 0.3, amplitude: 4 };
const span = { days: ["mon"], from: "21:00", to: "07:00" };

const refused = {
  "a percentage beyond its gauge": ["readings", { at, side: "left", percent: 131 }],
  "a step that is none": ["readings", { at, side: "left", step: "two", of: 5 }],
  "a reading of nothing": ["readings", { at, side: "left" }],
  "a reading without a side": ["readings", { at, percent: 31 }],
  "no volts": ["readings", { at, side: "left", cell_V: [] }],
  "a day that is none": ["readings", { at: "yesterday", side: "left", percent: 31 }],
  "a year far away": ["readings", { at: "1999-03-01T21:30:00+01:00", side: "left", percent: 31 }],
  "a time to come": ["readings", { at: "2090-03-01T21:30:00+01:00", side: "left", percent: 31 }],
  "a month that is none": ["cell-changes", { at, side: "left", reason: "planned", cells: { expires: "2033-13" } }],
  "an endless lot number": ["cell-changes", { at, side: "left", reason: "planned", cells: { lot: "7".repeat(90) } }],
  "half a cell": ["stock-counts", { at, item: "cells", quantity: 1.5, place: "home" }],
  "a delivery of nothing": ["deliveries", { at, item: "cells", quantity: 0, place: "home" }],
  "a unit that nobody knows": ["units", { serial: "u-9", stimulator: "nobody-knows", from: at }],
  "a breath shorter than its inspiration": ["settings", { ...settings, inspiratory_fraction: undefined, inspiratory_time_s: 9 }],
  "nearly all of a breath": ["settings", { ...settings, inspiratory_fraction: undefined, inspiratory_time_s: 4.9 }],
  "both forms of the inspiration": ["settings", { ...settings, inspiratory_time_s: 1 }],
  "neither of them": ["settings", { ...settings, inspiratory_fraction: undefined }],
  "a span of no day": ["settings", { ...settings, paced: [{ ...span, days: [] }] }],
  "a span of no length": ["settings", { ...settings, paced: [{ ...span, to: "21:00" }] }],
  "growth to less than there is": ["settings", { ...settings, paced: [span], growth: { minutes_per_week: 60, up_to_hours: 4 } }],
  "growth of nothing": ["settings", { ...settings, growth: { minutes_per_week: 60, up_to_hours: 4 } }],
  "paced more by nothing": ["paced-more", { sides: ["left"], from: at }],
  "paced more on no side": ["paced-more", { sides: [], from: at, hours_per_day: 20 }],
  "one side twice": ["paced-more", { sides: ["left", "left"], from: at, hours_per_day: 20 }],
  "an end before its beginning": ["paced", { side: "left", from: later, to: at, hours_per_day: 3 }],
  "a stay of two years": ["stays", { from: at, to: "2028-03-02T21:30:00+01:00" }],
  "a place without clocks": ["stays", { from: at, to: later, zone: "Nowhere/Else" }],
  "no changing time": ["stays", { from: at, to: later, changing_times: [] }],
  "cells put in after coming home": ["back-home", { at, cells: { left: { are: "fresh", changed_at: later } } }],
  "nothing to compare": ["what-if", {}],
  "cells that nobody knows": ["what-if", { cells: { left: "nobody-knows" } }],
  "an undo of nothing": ["voids", { entry: 99_999 }],
};

describe("a refusal of the service reads in Spanish", { skip: there ? false : "not built" }, () => {
  let service, path;
  before(async () => {
    service = await start();
    path = `${service.base}/api/v1/households/${await service.household()}`;
    source.speak("es", { catalogue: { service_refusals: read("service_refusals"), service_words: read("service_words") }, told_document: source.told_document, told_problem: source.told_problem, grammar: source.spanish_grammar });
  });
  after(() => service?.stop());

  const post = async (route, body) => {
    const headers = { "Content-Type": "application/json", "Idempotency-Key": `${route}-${JSON.stringify(body).length}-${Math.random()}`, ...signed_in_at(service.base) };
    const answer = await fetch(`${path}/${route}`, { method: "POST", headers, body: JSON.stringify(body) });
    return { status: answer.status, problem: await answer.json() };
  };

  for (const [what, [route, body]] of Object.entries(refused)) {
    test(what, async () => {
      const { status, problem } = await post(route, body);
      assert.ok(status >= 400 && status < 500, `${status} ${JSON.stringify(problem)}`);
      const { title, errors = [] } = source.told_problem(problem);
      for (const [index, said] of [title, ...errors.map(({ reason }) => reason)].entries()) {
        const from = index ? problem.errors[index - 1].reason : problem.title;
        assert.notEqual(said, read("service_refusals").other, `no words for: ${from}`);
        assert.notEqual(said, from);
      }
    });
  }
});
