// SPDX-License-Identifier: MIT
// The stand-in's routes of the planner's desk. Null: the route is another's.
import { risk_curve, waste } from "./costs.mjs";
import { problem } from "./desk.mjs";
import { check } from "./imports.mjs";

const created = (body) => ({ status: 201, body });
const found = (body) => ({ status: 200, body });

function of_home(desk, household, what, entry, body) {
  const now = desk.clock().toISOString();
  const row = desk.row(household);
  const without = (attention) => row.attention.filter((one) => one !== attention);
  switch (what) {
    case "ask":
      desk.change(household, { asked_at: now });
      return created({ asked_at: now, entry: 77 });
    case "voids":
      if (body.entry === 77) desk.change(household, { asked_at: null });
      else if (body.entry === 79) desk.change(household, { attention: ["message", ...row.attention], messages: row.messages.map((one) => ({ ...one, seen_at: null })) });
      else desk.lots.calls.delete(household);
      return created({ entry: { id: 78, kind: "void", at: now, recorded_at: now, text: "Undone." } });
    case "stop":
      desk.storage.set(household, body.storage ?? []);
      return created({ entry: 80, row: desk.change(household, { area: body.area, stop: body.stop, attention: without("no_area") }) });
    case "close":
      return desk.close(household);
    case "reopen":
      return created({ row: desk.change(household, { closed_at: null }), entry: 81 });
    case "messages":
      desk.change(household, { attention: without("message"), messages: row.messages.map((one) => (String(one.entry) === entry ? { ...one, seen_at: now } : one)) });
      return created({ seen_at: now, entry: 79 });
    case "delivery-answers": {
      const delivery = desk.messages_of(household).body.deliveries.find((one) => one.round === body.round);
      desk.received.push({ household, ...body });
      desk.change(household, { attention: without("no_answer"), deliveries: row.deliveries.filter((one) => one.round !== body.round) });
      return created({ delivery: { ...delivery, state: body.answer }, entry: 82, booked: [] });
    }
    case "delivery-whereabouts":
      return desk.settle(household, body);
    case "recall-calls":
      return desk.lots.call(household, body.lot);
    default:
      return null;
  }
}

const reads = {
  "/board": (desk, query) => desk.board(query),
  "/calendar": (desk) => found(desk.calendar()),
  "/agency-stock": (desk) => found(desk.stock()),
  "/plan": (desk) => found(desk.plan()),
  "/plan/remedies": (desk, query) => desk.remedies(query.get("stop")),
  "/lots": (desk) => desk.lots.list(),
  "/lots/one": (desk, query) => desk.lots.one(query),
  "/lots/corrections": (desk) => found({ corrections: desk.lots.corrections }),
  "/lots/recalls/calls": (desk, query) => desk.lots.to_call(query),
  "/costs/waste": (desk) => found(waste(desk.rows, desk.clock(), desk.lots.left_out)),
  "/costs/risk-curve": (desk) => found(risk_curve(desk.clock(), desk.lots.left_out)),
  "/rounds-feed": (desk) => found({ made_at: desk.feed ?? null, by: desk.feed ? "Office" : "" }),
};

const writes = {
  "/calendar": (desk, body) => desk.set_calendar(body),
  "/agency-stock": (desk, body) => desk.record_stock(body),
  "/plan/consequence": (desk, body) => desk.consequence(body),
  "/plan/decisions": (desk, body) => desk.decide(body),
  "/plan/confirm": (desk, body) => desk.confirm(body),
  "/lots/recalls": (desk, body) => desk.lots.recall(body),
  "/lots/recalls/undo": (desk, body) => desk.lots.take_back(body),
  "/lots/corrections": (desk, body) => desk.lots.correct(body),
  "/imports/check": (_desk, body) => found(check(body)),
  "/imports": (_desk, body) => (check(body).can_apply ? created({ applied: check(body).would, text: `Brought in: ${check(body).would.households} households, ${check(body).would.counts} counts.` }) : problem(422, "import-refused", "Nothing was stored.")),
  "/rounds-feed": (desk) => {
    desk.feed = desk.clock().toISOString();
    return created({ address: "https://cells.example.org/api/v1/feeds/rounds/8f3k2p9q7m1x4z6w.ics", text: "Whoever has it reads the rounds." });
  },
};

const unkeyed = ["/plan/consequence", "/imports/check"];

export function answer_desk(desk, request, path, query, body) {
  const key = request.headers["idempotency-key"];
  if (request.method === "GET" && reads[path]) return reads[path](desk, query);
  if (request.method === "DELETE" && path === "/rounds-feed") {
    desk.feed = null;
    return { status: 204, body: null };
  }
  if (request.method === "POST" && writes[path]) return key || unkeyed.includes(path) ? writes[path](desk, body) : problem(400, "key-missing", "An Idempotency-Key is needed.");
  const [, round, state] = /^\/rounds\/([^/]+)(\/state)?$/.exec(path) ?? [];
  if (round) return state ? desk.set_round(decodeURIComponent(round), body) : desk.round(decodeURIComponent(round));
  const [, household, what, entry] = /^\/households\/([^/]+)\/([\w-]+)(?:\/(\d+)\/seen)?$/.exec(path) ?? [];
  if (!household || !desk.row(household)) return null;
  if (what === "desk") return desk.desk_of(household);
  if (what === "messages" && request.method === "GET") return desk.messages_of(household);
  return request.method === "POST" ? of_home(desk, household, what, entry, body) : null;
}
