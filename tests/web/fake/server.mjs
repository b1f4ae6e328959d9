// SPDX-License-Identifier: MIT
// A small stand-in for the service: the routes the pages use, answers of the agreed form, nothing computed.
// A household of any name is there; the first word of its name says in which state ("due-3" is due).
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { extname } from "node:path";
import { fileURLToPath } from "node:url";
import { FakeHousehold } from "./household.mjs";
import { packing, plan_fault, side_by_side } from "./plans.mjs";

const dist = fileURLToPath(new URL("../../../web/dist/", import.meta.url));
const types = { ".html": "text/html; charset=utf-8", ".js": "text/javascript", ".css": "text/css", ".svg": "image/svg+xml" };
const policy = "default-src 'self'; base-uri 'none'; frame-ancestors 'none'; form-action 'self'";
const kinds = { "cell-changes": "cell_change", readings: "reading", "stock-counts": "stock_count", deliveries: "delivery", discards: "discard", stays: "stay", "paced-more": "paced_more", visits: "visit", hospital: "hospital", "back-home": "back_home", ends: "end", units: "unit", settings: "settings", voids: "void", answers: "answer" };

const problem = (status, code, title, errors) => ({ status, body: { type: `/problems/${code}`, title, status, ...(errors && { errors }) } });

function refusal(kind, body, household) {
  const now = household.clock();
  const wrong = (place, reason) => problem(422, "out-of-range", "Something is outside its range.", [{ place, code: "out-of-range", reason }]);
  if (body.percent > 100) return wrong("/percent", "A gauge shows 0 to 100 %.");
  if (body.quantity < 0) return wrong("/quantity", "A count is 0 or more.");
  if (body.cells?.lot === "refused") return problem(422, "too-long", "Refused.", [{ place: "/cells/lot", code: "too-long", reason: "A lot number has at most 40 letters." }]);
  const fault = plan_fault(kind, body, household);
  if (fault) return wrong(...fault);
  const late = kind !== "visit" && kind !== "stay" && Date.parse(body.at ?? body.from ?? "") > now.getTime() + 600_000;
  if (late && !body.confirmed?.includes("future-date")) return problem(409, "future-date", "That time has not come yet.", [{ place: "/at", code: "future-date", reason: "This is in the future. Is it meant so?" }]);
  return null;
}

function write(household, path, body, key) {
  if (path === "what-if") {
    const fault = plan_fault("what-if", body, household);
    return fault ? problem(422, "out-of-range", "Something is outside its range.", [{ place: fault[0], code: "out-of-range", reason: fault[1] }]) : { status: 200, body: side_by_side(household, body, household.clock()) };
  }
  const kind = kinds[path];
  if (!kind) return problem(404, "unknown-route", "There is no such route.");
  if (!key) return problem(400, "key-missing", "An Idempotency-Key is needed.");
  const before = household.answers.get(key);
  if (before) return before;
  const refused = refusal(kind, body, household);
  if (refused) return refused;
  const entry = household.record(kind, body);
  const answer = { status: 201, body: { entry, questions: [], forecast: household.forecast(), ...(kind === "stay" && { packing }) } };
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
  const name = path === "/" || path.startsWith("/h/") ? "index.html" : path.slice(1);
  if (name.includes("..")) return null;
  return readFile(dist + name).then((bytes) => ({ bytes, type: types[extname(name)] ?? "application/octet-stream" }), () => null);
}

async function body_of(request) {
  let text = "";
  for await (const part of request) text += part;
  return JSON.parse(text);
}

/// Starts on a free port of loopback; `clock` may stand still.
export async function start_fake(clock = () => new Date()) {
  const households = new Map();
  const household_of = (name) => {
    if (!households.has(name)) households.set(name, new FakeHousehold(name, clock));
    return households.get(name);
  };
  const answer = async (request) => {
    const url = new URL(request.url, "http://localhost");
    const [, name, path = ""] = /^\/api\/v1\/households\/([^/]+)\/?(.*)$/.exec(url.pathname) ?? [];
    if (url.pathname === "/api/v1/households") return { status: 200, body: { households: [{ household: "calm", area: "north" }], next: null } };
    const [, stimulator] = /^\/api\/v1\/profiles\/stimulators\/([^/]+)$/.exec(url.pathname) ?? [];
    if (stimulator) return { status: 200, body: { id: stimulator, handling: handling(stimulator) } };
    if (url.pathname === "/api/v1/profiles/stimulators") return { status: 200, body: { profiles: [{ id: "invented", basis: "invented", cells_in_series: 2 }] } };
    if (!name) return null;
    if (name === "nobody") return problem(404, "unknown-household", "There is no household of this name.");
    if (request.method === "POST") return write(household_of(name), path, await body_of(request), request.headers["idempotency-key"]);
    return { status: 200, body: read(household_of(name), path, url.searchParams) };
  };
  const server = createServer(async (request, response) => {
    const api = request.url.startsWith("/api/") ? await answer(request) : null;
    const file = api ? null : await asset(request.url.split("?")[0]);
    response.setHeader("Content-Security-Policy", policy);
    if (api) response.writeHead(api.status, { "Content-Type": api.status < 400 ? "application/json" : "application/problem+json", "Cache-Control": "no-cache" }).end(JSON.stringify(api.body));
    else if (file) response.writeHead(200, { "Content-Type": file.type }).end(file.bytes);
    else response.writeHead(404).end();
  });
  await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
  return { base: `http://127.0.0.1:${server.address().port}`, stop: () => new Promise((resolve) => { server.close(resolve); server.closeAllConnections(); }) };
}
