// SPDX-License-Identifier: MIT
// The services that people sign in to: the stand-in that asks everyone, and the real one where it was built. Each has the
// same handles: a household, links for phones and for staff, and what ends phones.
import { execFileSync, spawn } from "node:child_process";
import { randomUUID } from "node:crypto";
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { start_fake } from "../fake/server.mjs";

const root = fileURLToPath(new URL("../../../", import.meta.url));
const binary = process.env.CELLARER ?? join(root, "build/server/cellarer");

async function start_stand_in() {
  const fake = await start_fake(undefined, { locked: true });
  let count = 0;
  const phones = (household) => [...fake.access.accounts.values()].filter((one) => one.household === household);
  return {
    base: fake.base, stop: fake.stop,
    household: async () => `due-${++count}`,
    staff_link: async (role) => fake.access.invite({ role, label: "Office" }, fake.base).link,
    phone_link: async (household, more = {}) => fake.access.invite({ role: "household", label: "A phone", household, ...more }, fake.base).link,
    end_phones: async (household) => phones(household).forEach((one) => fake.access.end(one.account)),
  };
}

async function free_port() {
  const server = createServer();
  await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address();
  await new Promise((resolve) => server.close(resolve));
  return port;
}

async function until_ready(base, child) {
  for (let attempt = 0; attempt < 300; attempt++) {
    if (child.exitCode !== null) throw new Error(`the service ended at once with code ${child.exitCode}`);
    if (await fetch(`${base}/api/v1/ready`).then((answer) => answer.ok, () => false)) return;
    await pause(100);
  }
  throw new Error(`no service answers at ${base}`);
}

const days_ago = (days) => new Date(Date.now() - days * 86_400_000).toISOString().replace(/\.\d+/, "");

/// An administrator of the agency, who acts beside the pages.
async function administrator(base, code) {
  let cookie = "";
  const ask = async (method, path, body) => {
    const headers = { Cookie: cookie, "Idempotency-Key": randomUUID(), ...(body && { "Content-Type": "application/json" }) };
    const answer = await fetch(`${base}/api/v1${path}`, { method, headers, ...(body && { body: JSON.stringify(body) }) });
    if (!answer.ok) throw new Error(`${method} ${path}: ${answer.status} ${await answer.text()}`);
    cookie = answer.headers.get("set-cookie")?.split(";")[0] ?? cookie;
    const text = await answer.text();
    return text ? JSON.parse(text) : null;
  };
  await ask("POST", "/invitations/accept", { code });
  return ask;
}

/// So many homes of the demo's invented agency, with its calendar and its store.
function load_demo(data, homes) {
  const lines = execFileSync(process.execPath, [join(root, "demo/agency.mjs"), "--homes", String(homes)], { maxBuffer: 1 << 28 });
  const file = join(data, "agency.jsonl");
  writeFileSync(file, lines);
  execFileSync(binary, ["load", "--data", data, file], { stdio: "ignore" });
  rmSync(file);
}

async function start_real({ homes = 0 } = {}) {
  const port = await free_port();
  const base = `http://localhost:${port}`;
  const data = mkdtempSync(join(tmpdir(), "cellarer-access-"));
  if (homes) load_demo(data, homes);
  const begin = async () => {
    const child = spawn(binary, ["serve", "--data", data, "--port", String(port), "--web", join(root, "web/dist")], { stdio: ["ignore", "ignore", "inherit"] });
    await until_ready(base, child);
    return child;
  };
  let child = await begin();
  const add = (role, ...more) => JSON.parse(execFileSync(binary, ["account", "add", "--data", data, "--role", role, "--label", "Office", "--json", ...more], { encoding: "utf8" }));
  const ask = await administrator(base, add("administrator", "--without-passkey").code);
  const ended = () => (child.exitCode === null && child.signalCode === null ? new Promise((resolve) => child.once("exit", resolve)) : undefined);
  return {
    base,
    /// As an administrator, beside the pages.
    ask,
    household: async () => {
      const household = `t-${randomUUID().slice(0, 8)}`;
      const path = `/households/${household}`;
      await ask("POST", "/households", { household, zone: "Europe/Oslo", changing_times: ["21:30"] });
      await ask("POST", `${path}/units`, { serial: "u-1", stimulator: "percent-power", from: days_ago(40) });
      await ask("POST", `${path}/stock-counts`, { at: days_ago(3), item: "cells", lot: "7Q", quantity: 10, expires: "2032-06", place: "home" });
      for (const side of ["left", "right"]) {
        await ask("POST", `${path}/settings`, { from: days_ago(40), side, rate_per_min: 12, inspiratory_fraction: 0.28, amplitude: 4.0, paced: [] });
        await ask("POST", `${path}/cell-changes`, { at: days_ago(9), side, reason: "planned", cells: { profile: "lr6-family", lot: "5C" }, from_stock: false });
      }
      return household;
    },
    staff_link: async (role) => add(role).link,
    phone_link: async (household, more = {}) => (await ask("POST", "/invitations", { role: "household", label: "A phone", household, ...more })).link,
    end_phones: async (household) => {
      const { phones } = await ask("GET", `/households/${household}/phones`);
      for (const { account } of phones) await ask("DELETE", `/households/${household}/phones/${account}`);
    },
    /// As a power cut would: no time for anything.
    kill: async () => {
      child.kill("SIGKILL");
      await ended();
    },
    start_again: async () => void (child = await begin()),
    stop: async () => {
      child.kill("SIGTERM");
      await ended();
      rmSync(data, { recursive: true, force: true });
    },
  };
}

export const access_services = [
  { name: "the stand-in", start: start_stand_in, there: true },
  { name: "the service", start: start_real, there: existsSync(binary) },
];
