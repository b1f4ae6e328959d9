// SPDX-License-Identifier: MIT
// The services a journey is made against: always the stand-in, and the real one where it was built (its path in
// CELLARER, or build/server/cellarer) or runs already (BASE_URL).
import { execFileSync, spawn } from "node:child_process";
import { randomUUID } from "node:crypto";
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { start_fake } from "../fake/server.mjs";
import { bring } from "./rounds.mjs";

const root = fileURLToPath(new URL("../../../", import.meta.url));
const binary = process.env.CELLARER ?? join(root, "build/server/cellarer");

async function free_port() {
  const server = createServer();
  await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address();
  await new Promise((resolve) => server.close(resolve));
  return port;
}

async function until_ready(base, child) {
  for (let attempt = 0; attempt < 300; attempt++) {
    if (child && child.exitCode !== null) throw new Error(`the service ended at once with code ${child.exitCode}`);
    const ready = await fetch(`${base}/api/v1/ready`).then((answer) => answer.ok, () => false);
    if (ready) return;
    await pause(100);
  }
  throw new Error(`no service answers at ${base}`);
}

/// The administrator's cookie at each service, for what tests do beside the pages.
const cookies = new Map();
export const signed_in_at = (base) => (cookies.has(base) ? { Cookie: cookies.get(base) } : {});

export async function ask(base, method, path, body) {
  const headers = { "Content-Type": "application/json", "Idempotency-Key": randomUUID(), ...signed_in_at(base) };
  const answer = await fetch(`${base}/api/v1${path}`, { method, headers, ...(body && { body: JSON.stringify(body) }) });
  if (!answer.ok) throw new Error(`${path}: ${answer.status} ${await answer.text()}`);
  return answer.json();
}

async function post(base, path, body) {
  const headers = { "Content-Type": "application/json", "Idempotency-Key": randomUUID(), ...signed_in_at(base) };
  const answer = await fetch(`${base}/api/v1${path}`, { method: "POST", headers, body: JSON.stringify(body) });
  if (answer.status !== 201) throw new Error(`${path}: ${answer.status} ${await answer.text()}`);
  return answer;
}

async function sign_in(base, code) {
  const answer = await post(base, "/invitations/accept", { code });
  cookies.set(base, answer.headers.get("set-cookie").split(";")[0]);
}

/// Signs the page's phone in to the household, as the page does that an invitation opens.
async function let_in(base, page, household) {
  const { code } = await (await post(base, "/invitations", { role: "household", label: "Kitchen phone", household })).json();
  await page.goto(`${base}/api/v1/health`);
  const status = await page.evaluate(async (body) => {
    const answer = await fetch("/api/v1/invitations/accept", { method: "POST", headers: { "Content-Type": "application/json" }, body });
    return answer.status;
  }, JSON.stringify({ code }));
  if (status !== 201) throw new Error(`the phone was not let in: ${status}`);
}

const days_ago = (days) => new Date(Date.now() - days * 86_400_000).toISOString().replace(/\.\d+/, "");
const every_day = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

/// A household whose cells are two days old on both sides, with two lots in stock.
async function make_household(base, more = {}) {
  const household = `t-${randomUUID().slice(0, 8)}`;
  const path = `/households/${household}`;
  await post(base, "/households", { household, zone: "Europe/Oslo", changing_times: ["21:30"], ...more });
  await post(base, `${path}/units`, { serial: "u-1", stimulator: "percent-power", from: days_ago(40) });
  for (const [lot, quantity, expires] of [["7Q", 10, "2032-06"], ["8B", 12, "2033-01"]]) {
    await post(base, `${path}/stock-counts`, { at: days_ago(3), item: "cells", lot, quantity, expires, place: "home" });
  }
  for (const side of ["left", "right"]) {
    const paced = [{ days: every_day, from: "21:00", to: "07:00" }];
    await post(base, `${path}/settings`, { from: days_ago(40), side, rate_per_min: 12, inspiratory_fraction: 0.28, amplitude: 4.0, paced });
    await post(base, `${path}/cell-changes`, { at: days_ago(2), side, reason: "planned", cells: { profile: "lr6-family", lot: "5C" }, from_stock: false });
  }
  return household;
}

/// One with a delivery on its way.
async function make_expecting(base) {
  const area = `a-${randomUUID().slice(0, 8)}`;
  const household = await make_household(base, { area, items: [{ item: "tape", pack_size: 5, lead_days: 1, every_days: 2 }] });
  await bring((method, path, body) => ask(base, method, path, body), household, area);
  return household;
}

async function start_real() {
  if (process.env.BASE_URL) {
    const base = process.env.BASE_URL.replace(/\/$/, "");
    await until_ready(base);
    await sign_in(base, process.env.INVITATION); // of `cellarer account add --role administrator --without-passkey`
    return { base, household: () => make_household(base), expecting: () => make_expecting(base), let_in: (page, household) => let_in(base, page, household), stop: async () => undefined };
  }
  const base = `http://127.0.0.1:${await free_port()}`;
  const data = mkdtempSync(join(tmpdir(), "cellarer-pages-"));
  const port = new URL(base).port;
  const child = spawn(binary, ["serve", "--data", data, "--port", port, "--web", join(root, "web/dist")], { stdio: ["ignore", "ignore", "inherit"] });
  await until_ready(base, child);
  const add = ["account", "add", "--data", data, "--role", "administrator", "--label", "Tests", "--without-passkey", "--json"];
  await sign_in(base, JSON.parse(execFileSync(binary, add, { encoding: "utf8" })).code);
  const stop = async () => {
    child.kill("SIGTERM");
    if (child.exitCode === null) await new Promise((resolve) => child.once("exit", resolve));
    rmSync(data, { recursive: true, force: true });
  };
  return { base, household: () => make_household(base), expecting: () => make_expecting(base), let_in: (page, household) => let_in(base, page, household), stop };
}

async function start_stand_in() {
  const fake = await start_fake();
  let count = 0;
  return { ...fake, household: async () => `calm-${++count}`, expecting: async () => `bringing-${++count}`, let_in: async () => undefined };
}

export const services = [
  { name: "the stand-in", start: start_stand_in, there: true },
  { name: "the service", start: start_real, there: Boolean(process.env.BASE_URL) || existsSync(binary) },
];
