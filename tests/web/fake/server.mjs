// SPDX-License-Identifier: MIT
// A small stand-in for the service: the routes the pages use, answers of the agreed form, nothing computed.
// A household of any name is there; the first word of its name says in which state ("due-3" is due).
import { readFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { extname } from "node:path";
import { fileURLToPath } from "node:url";
import { FakeAccess } from "./access.mjs";
import { answer_access } from "./access_routes.mjs";
import { answer_correspondence } from "./correspondence.mjs";
import { FakeBench } from "./bench.mjs";
import { FakeHousehold } from "./household.mjs";
import { FakeDesk } from "./planner/desk.mjs";
import { answer_desk } from "./planner/routes.mjs";
import { FakeTrail } from "./planner/trail.mjs";
import { FakeReminders } from "./reminders.mjs";
import { packing, plan_fault, side_by_side } from "./plans.mjs";

/// That of a unit which is there, as the service tells it.
const { settings_range } = JSON.parse(readFileSync(new URL("../../../data/stimulators/percent-power.json", import.meta.url), "utf8"));
const dist = fileURLToPath(new URL("../../../web/dist/", import.meta.url));
const types = { ".html": "text/html; charset=utf-8", ".js": "text/javascript", ".css": "text/css", ".svg": "image/svg+xml", ".png": "image/png", ".webmanifest": "application/manifest+json" };
const policy = "default-src 'self'; base-uri 'none'; frame-ancestors 'none'; form-action 'self'";
const kinds = { "cell-changes": "cell_change", readings: "reading", "stock-counts": "stock_count", deliveries: "delivery", discards: "discard", uses: "use", stays: "stay", "paced-more": "paced_more", paced: "paced", "switched-off": "switched_off", visits: "visit", hospital: "hospital", "back-home": "back_home", ends: "end", units: "unit", settings: "settings", voids: "void", answers: "answer" };

const problem = (status, code, title, errors) => ({ status, body: { type: `/problems/${code}`, title, status, ...(errors && { errors }) } });

const not_allowed = problem(403, "not-allowed", "This way in may not do that.");

function refusal(kind, body, household) {
  const now = household.clock();
  const wrong = (place, reason) => problem(422, "out-of-range", "A field is outside its range", [{ place, code: "out-of-range", reason }]);
  if (body.percent > 100) return wrong("/percent", `${body.percent} is outside 0 to 100`);
  if (body.quantity < 0) return wrong("/quantity", `${body.quantity} is outside 0 to 100000`);
  if (body.cells?.lot === "refused") return problem(422, "too-long", "A field is too long", [{ place: "/cells/lot", code: "too-long", reason: "is longer than 60 bytes" }]);
  const fault = plan_fault(kind, body, household);
  if (fault) return wrong(...fault);
  const late = kind !== "visit" && kind !== "stay" && Date.parse(body.at ?? body.from ?? "") > now.getTime() + 600_000;
  if (late && !body.confirmed?.includes("future-date")) return problem(409, "future-date", "This lies in the future: is the date right?", [{ place: "/at", code: "future-date", reason: "lies in the future" }]);
  return null;
}

function write(household, path, body, key, whole) {
  if (path === "what-if") {
    const fault = plan_fault("what-if", body, household);
    return fault ? problem(422, "out-of-range", "A field is outside its range", [{ place: fault[0], code: "out-of-range", reason: fault[1] }]) : { status: 200, body: side_by_side(household, body, household.clock()) };
  }
  const kind = kinds[path];
  if (!kind) return problem(404, "unknown-route", "There is no such route.");
  if (!key) return problem(400, "key-missing", "An Idempotency-Key is needed.");
  const before = household.answers.get(key);
  if (before) return before;
  const refused = refusal(kind, body, household);
  if (refused) return refused;
  const entry = household.record(kind, body);
  const answer = { status: 201, body: { entry, questions: [], forecast: household.forecast(), ...(whole && { household: household.document() }), ...(kind === "stay" && { packing }) } };
  household.answers.set(key, answer);
  return answer;
}

/// Steps are in both profiles; a technician has approved those of one.
function handling(stimulator) {
  return { approved: stimulator === "approved", source: "An invented card", date: "2026-03-01", steps: ["Open the lid of that side.", "Take out both cells."] };
}

function read(household, path, query) {
  if (path === "") return household.document();
  if (path === "forecast") return household.forecast();
  if (path === "chart") return household.chart(query.get("side"));
  if (path === "entries") return { entries: [...household.entries].reverse(), next: null };
  return null;
}

async function asset(path) {
  const name = path === "/" || path === "/in" || path.startsWith("/h/") ? "index.html" : path.slice(1);
  if (name.includes("..")) return null;
  return readFile(dist + name).then((bytes) => ({ bytes, type: types[extname(name)] ?? "application/octet-stream" }), () => null);
}

async function body_of(request) {
  let text = "";
  for await (const part of request) text += part;
  return text ? JSON.parse(text) : null;
}

/// Starts on a free port of loopback; `clock` may stand still. `locked`: everyone has to sign in.
export async function start_fake(clock = () => new Date(), { locked = false, homes = 300 } = {}) {
  const access = new FakeAccess(clock, locked);
  const desk = new FakeDesk(clock, homes);
  const trail = new FakeTrail(clock, desk.rows.map((row) => row.household));
  const bench = new FakeBench(clock);
  const households = new Map();
  const household_of = (name) => {
    if (!households.has(name)) households.set(name, new FakeHousehold(name, clock));
    return households.get(name);
  };
  const reminders = new Map();
  const reminders_of = (name) => {
    if (!reminders.has(name)) reminders.set(name, new FakeReminders(clock, name !== "calm-without", household_of(name).closed_at()));
    return reminders.get(name);
  };
  const answer = async (request) => {
    const url = new URL(request.url, "http://localhost");
    const body = ["POST", "PUT"].includes(request.method) ? await body_of(request) : null;
    const entering = answer_access(access, request, url.pathname.slice("/api/v1".length), body, `http://${request.headers.host}`);
    if (entering) return entering;
    if (request.method === "GET" && url.pathname === "/api/v1/audit") return access.may(access.who(request), "read-audit") ? trail.answer(url.searchParams) : not_allowed;
    const on_bench = bench.answer(request.method, url.pathname.slice("/api/v1".length), url.searchParams, body);
    if (on_bench) return on_bench;
    const at_desk = answer_desk(desk, request, url.pathname.slice("/api/v1".length), url.searchParams, body);
    if (at_desk) return at_desk;
    const [, name, path = ""] = /^\/api\/v1\/households\/([^/]+)\/?(.*)$/.exec(url.pathname) ?? [];
    if (url.pathname === "/api/v1/households") return { status: 200, body: { households: [{ household: "calm", area: "north" }, { household: "h-0098", area: "north" }, { household: "h-0142", area: "harbour" }, { household: "h-0207", area: "harbour" }, { household: "h-0311", area: "hills" }], next: null } };
    const [, stimulator] = /^\/api\/v1\/profiles\/stimulators\/([^/]+)$/.exec(url.pathname) ?? [];
    if (stimulator) return { status: 200, body: { id: stimulator, marks: { left: "A", right: "B" }, settings_range, handling: handling(stimulator) } };
    if (url.pathname === "/api/v1/profiles/stimulators") return { status: 200, body: { profiles: [{ id: "invented", basis: "invented", cells_in_series: 2 }] } };
    if (!name) return null;
    const shut = access.shut(request, name);
    if (shut) return shut;
    if (name === "nobody") return problem(404, "unknown-household", "There is no household of this name.");
    if (path === "events") return { status: 204 };  // it tells nothing as it happens: the page asks every minute
    const reminded = reminders_of(name).answer(request.method, path, body, request.headers["idempotency-key"]);
    if (reminded) return reminded;
    const told = answer_correspondence(household_of(name), request.method, path, body, request.headers["idempotency-key"]);
    if (told) return told;
    if (request.method === "POST") return write(household_of(name), path, body, request.headers["idempotency-key"], request.headers.prefer === "return=representation");
    return { status: 200, body: read(household_of(name), path, url.searchParams) };
  };
  const server = createServer(async (request, response) => {
    const api = request.url.startsWith("/api/") ? await answer(request) : null;
    const file = api ? null : await asset(request.url.split("?")[0]);
    response.setHeader("Content-Security-Policy", policy);
    response.setHeader("Date", clock().toUTCString());
    if (api?.text) response.writeHead(200, { "Content-Type": api.type, "Content-Disposition": "attachment" }).end(api.text);
    else if (api) response.writeHead(api.status, { "Content-Type": api.status < 400 ? "application/json" : "application/problem+json", "Cache-Control": "no-cache", ...(api.cookie && { "Set-Cookie": api.cookie }) }).end(api.status === 204 ? "" : JSON.stringify(api.body));
    else if (file) response.writeHead(200, { "Content-Type": file.type }).end(file.bytes);
    else response.writeHead(404).end();
  });
  const listen = (at) => new Promise((resolve) => server.listen(at, "127.0.0.1", resolve));
  const stop = () => new Promise((resolve) => { server.close(resolve); server.closeAllConnections(); });
  await listen(0);
  const { port } = server.address();
  const base = locked ? `http://localhost:${port}` : `http://127.0.0.1:${port}`;  // a passkey wants a name
  return { base, access, desk, trail, bench, reminders_of, stop, start_again: () => listen(port) };
}
