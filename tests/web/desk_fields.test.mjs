// SPDX-License-Identifier: MIT
// That the stand-in, which the other tests of the planner's desk meet, answers with the real service's fields and types, and
// no others: the list, a household beside it, the plan, a round and its sheet, the store, lots, costs, the audit trail, and what is written.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { setTimeout as pause } from "node:timers/promises";
import { start_fake } from "./fake/server.mjs";
import { access_services } from "./support/access_services.mjs";
import { fields, lacking } from "./support/fields.mjs";
import { sign_in_as } from "./support/staff.mjs";

const homes = 24;
const service_of = access_services.find((one) => one.name === "the service");
const of_round = ({ round }) => `/rounds/${encodeURIComponent(round)}`;
const at_home = (household, what) => `/households/${encodeURIComponent(household)}/${what}`;

/// Both are told the same; `real` and `fake` ask one of them.
const pair = (real, fake) => async (what, [real_path, real_body], [fake_path = real_path, fake_body = real_body] = []) => {
  const got = { real: await real(real_path, real_body), fake: await fake(fake_path, fake_body) };
  const [of_service, of_stand_in] = [fields(got.real), fields(got.fake)];
  assert.deepEqual(lacking(of_service, of_stand_in), [], `${what}: the stand-in lacks these`);
  assert.deepEqual(lacking(of_stand_in, of_service), [], `${what}: the service has none of these`);
  return got;
};

describe("the stand-in of the planner's desk", { skip: !service_of.there }, () => {
  let service;
  let fake;
  before(async () => {
    service = await service_of.start({ homes });
    fake = await start_fake(undefined, { locked: true });
    sign_in_as(fake, "planner", "Office");
    for (let board = null; board?.computed !== homes; await pause(300)) board = await real("/board?limit=1");
  });
  after(async () => {
    await fake?.stop();
    await service?.stop();
  });

  const real = (path, body) => service.ask(body ? "POST" : "GET", path, body);
  let keys = 0;
  const of_fake = async (path, body) => {
    const headers = { "Content-Type": "application/json", "Idempotency-Key": `fields-${++keys}` };
    const answer = await fetch(`${fake.base}/api/v1${path}`, { method: body ? "POST" : "GET", headers, ...(body && { body: JSON.stringify(body) }) });
    assert.ok(answer.ok, `${path}: ${answer.status}`);
    return answer.json();
  };
  const ask_both = pair(real, of_fake);

  test("has its fields on the list, beside it, in the calendar, the store and the costs", async () => {
    const in_need = (rows) => rows.find((one) => one.deliver_by && one.area).household;
    const [home, its] = [in_need((await real("/board")).rows), in_need((await of_fake("/board")).rows)];
    const door = { area: "north", stop: "S-1", storage: [{ item: "cells", pieces: 480 }] };
    await real(at_home(home, "messages"), { about: "running_short", note: "The last box." });
    await ask_both("the list", ["/board"]);
    await ask_both("a door", [at_home(home, "stop"), door], [at_home(its, "stop")]);
    await ask_both("asked for a count", [at_home(home, "ask"), {}], [at_home(its, "ask")]);
    await ask_both("beside the list", [at_home(home, "desk")], [at_home(its, "desk")]);
    await ask_both("closed", [at_home(home, "close"), {}], [at_home(its, "close")]);
    await ask_both("open again", [at_home(home, "reopen"), {}], [at_home(its, "reopen")]);
    await ask_both("the calendar", ["/calendar"]);
    const ordered = { what: "ordered", item: "cells", lot: "ZZ-9", packs: 3, arrives: new Date(Date.now() + 9 * 86_400_000).toISOString().slice(0, 10) };
    await ask_both("an order", ["/agency-stock", ordered]);
    await ask_both("the store", ["/agency-stock"]);
    await ask_both("an order cancelled", ["/agency-stock", { what: "cancelled", item: "cells", lot: "ZZ-9", packs: 3 }]);
    for (let waste = null; !waste?.by_month; await pause(300)) waste = await real("/costs/waste");
    await ask_both("waste", ["/costs/waste"]);
    for (let curve = null; !curve?.points; await pause(300)) curve = await real("/costs/risk-curve");
    await ask_both("the curve", ["/costs/risk-curve"]);
    await ask_both("no feed", ["/rounds-feed"]);
    await ask_both("a feed is made", ["/rounds-feed", {}]);
    await ask_both("the feed", ["/rounds-feed"]);
  });

  test("has them in a plan, a round, its sheet, and what did not come of it, with its lot and its list to call", async () => {
    const plans = await ask_both("the plan", ["/plan"]);
    const chosen = ({ rounds }, stops) => rounds.find((one) => one.state === "open" && one.stops.length >= stops && one.stops.some((stop) => stop.lines.some((line) => line.item === "cells")));
    const rounds = { real: chosen(plans.real, 1), fake: chosen(plans.fake, 2) }; // of the stand-in's the first does not answer, to the last it did not come
    const change = (of) => ({ plan: plans[of].plan, stop: rounds[of].stops[0].stop, from: rounds[of].round });
    await ask_both("what follows", ["/plan/consequence", change("real")], ["/plan/consequence", change("fake")]);
    const left = { real: plans.real.left[0], fake: plans.fake.left[0] };
    const remedies = ({ stop }) => `/plan/remedies?stop=${encodeURIComponent(stop)}`;
    if (left.real) await ask_both("remedies", [remedies(left.real)], [remedies(left.fake)]);
    const confirm = (of) => ["/plan/confirm", { plan: plans[of].plan, rounds: [rounds[of].round] }];
    await ask_both("confirmed", confirm("real"), confirm("fake"));
    let sheets = await ask_both("the sheet", [of_round(rounds.real)], [of_round(rounds.fake)]);
    for (const state of ["loaded", "left", "done"]) {
      const step = (of) => [`${of_round(rounds[of])}/state`, { state, follows: sheets[of].number }];
      sheets = await ask_both(state, step("real"), step("fake"));
    }
    const line = { real: sheets.real.stops.flatMap((one) => one.lines).find((one) => one.item === "cells"), fake: sheets.fake.stops.at(-1).lines[0] };
    const its_round = fake.desk.row(line.fake.household).deliveries;
    its_round.push({ round: rounds.fake.round, date: rounds.fake.date, state: "left", since: sheets.fake.as_of });
    const answer = (of) => [at_home(line[of].household, "delivery-answers"), { round: rounds[of].round, answer: "not_received" }];
    await ask_both("the home's answer", answer("real"), answer("fake"));
    await ask_both("a sheet with what did not come", [of_round(rounds.real)], [of_round(rounds.fake)]);
    await ask_both("what the home was told", [at_home(line.real.household, "messages")], [at_home(line.fake.household, "messages")]);
    const lot = { real: line.real.lots[0].lot, fake: "B7" };
    const missing = await ask_both("a lot that did not come", [`/lots/one?lot=${lot.real}`], [`/lots/one?lot=${lot.fake}`]);
    assert.ok(missing.real.did_not_come.some((one) => one.household === line.real.household && one.quantity > 0));
    await ask_both("recalled", ["/lots/recalls", { lot: lot.real, why: "a trial" }], ["/lots/recalls", { lot: lot.fake, why: "a trial" }]);
    await ask_both("the lots", ["/lots"]);
    await ask_both("its list to call", [`/lots/recalls/calls?lot=${lot.real}`], [`/lots/recalls/calls?lot=${lot.fake}`]);
    await ask_both("recalled no longer", ["/lots/recalls/undo", { lot: lot.real }], ["/lots/recalls/undo", { lot: lot.fake }]);
    await ask_both("corrected", ["/lots/corrections", { from: "ZZ-1", to: lot.real }], ["/lots/corrections", { from: "ZZ-1", to: lot.fake }]);
    await ask_both("corrections", ["/lots/corrections"]);
    const settled = (of) => [at_home(line[of].household, "delivery-whereabouts"), { round: rounds[of].round, packs: "came_back" }];
    await ask_both("back in the store", settled("real"), settled("fake"));
  });

  test("has them in the audit trail, of which each link stands below the number after its own", async () => {
    sign_in_as(fake, "administrator", "Office");
    const { real: head } = await ask_both("the trail with whether it is whole", ["/audit?limit=1"]);
    assert.deepEqual([head.whole, head.first_break, head.links.length], [true, null, 1]);
    const [{ number, hash }] = head.links;
    const newest = await ask_both("its newest links", [`/audit?limit=100&cursor=${Number.MAX_SAFE_INTEGER}`]);
    for (const { links } of Object.values(newest)) {
      assert.equal(links.length, 100);
      assert.ok(links.every((one, index) => one.number === links[0].number - index && /^[0-9a-f]{64}$/.test(one.hash)));
    }
    assert.ok(newest.real.links.some((one) => one.number === number && one.hash === hash));
    const of_number = await ask_both("the link of a number", [`/audit?limit=1&cursor=${number + 1}`], ["/audit?limit=1&cursor=43"]);
    assert.deepEqual(of_number.real.links.map((one) => [one.number, one.hash]), [[number, hash]]);
    assert.deepEqual(of_number.fake.links.map((one) => one.number), [42]);
    await ask_both("the links after those", [`/audit?limit=100&cursor=${newest.real.next}`], [`/audit?limit=100&cursor=${newest.fake.next}`]);
    const { accounts } = await real("/accounts");
    assert.ok(newest.real.links.some((one) => accounts.some(({ account, label, role }) => account === one.who && label && role)));
  });
});
