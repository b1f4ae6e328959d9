// SPDX-License-Identifier: MIT
// Prints what Lighthouse finds on a household's page, signed in, for a phone on a slow line: the median of three runs, and what
// cost points. The version is pinned here and put into build/lighthouse by npm the first time. Nothing is tried twice: what does
// not end in time is said, and ends the command.  node tests/web/lighthouse.mjs [--report]
import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { access_services } from "./support/access_services.mjs";
import { require_web } from "./support/browser.mjs";

const version = "12.8.2";
const folder = fileURLToPath(new URL("../../build/lighthouse/", import.meta.url));
const asked = { accessibility: 1, "best-practices": 1, performance: 0.95 };
const runs_to_make = 3;
const run_s = 180;
const install_s = 300;

/// What hangs cannot be stopped from here; the command ends instead, and its browser and service with it.
function in_time(work, seconds, what) {
  let timer;
  const late = new Promise((_, reject) => {
    timer = setTimeout(() => reject(new Error(`${what} did not end within ${seconds} s`)), seconds * 1000);
  });
  return Promise.race([work, late]).finally(() => clearTimeout(timer));
}

async function lighthouse_here() {
  const entry = join(folder, "node_modules/lighthouse/package.json");
  const here = existsSync(entry) && createRequire(import.meta.url)(entry).version === version;
  mkdirSync(folder, { recursive: true });
  const install = ["install", "--prefix", folder, "--no-save", "--no-audit", "--no-fund", "--fetch-retries=0", `lighthouse@${version}`];
  try {
    if (!here) execFileSync("npm", install, { stdio: "inherit", timeout: install_s * 1000, env: { ...process.env, PUPPETEER_SKIP_DOWNLOAD: "1" } });
  } catch (error) {
    throw new Error(`npm could not put Lighthouse ${version} into ${folder}${error.code === "ETIMEDOUT" ? ` within ${install_s} s` : ""}`);
  }
  return (await import(pathToFileURL(join(folder, "node_modules/lighthouse/core/index.js")).href)).default;
}

async function free_port() {
  const server = createServer();
  await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address();
  await new Promise((resolve) => server.close(resolve));
  return port;
}

/// A browser of its own that is signed in, and that Lighthouse can speak to.
async function signed_in(service, household, port) {
  const profile = mkdtempSync(join(tmpdir(), "cellarer-lighthouse-"));
  const browser = await require_web("playwright-core").chromium.launchPersistentContext(profile, {
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium-headless-shell", headless: true, args: ["--no-sandbox", "--disable-gpu", `--remote-debugging-port=${port}`],
  });
  const page = await browser.newPage();
  await page.goto(await service.phone_link(household));
  await page.getByRole("button", { name: "Sign in this phone" }).click();
  await page.getByText(/^In the records it is called/).waitFor({ timeout: 120_000 });
  await page.close();
  return async () => {
    await browser.close();
    rmSync(profile, { recursive: true, force: true });
  };
}

const median_by = (runs, value) => [...runs].sort((a, b) => value(a) - value(b))[Math.floor(runs.length / 2)];
const score_of = (category) => (run) => run.categories[category].score;

/// Points of a hundred that each audit cost, the dearest first.
function costs_of(run, category) {
  const parts = run.categories[category].auditRefs.filter(({ id, weight }) => weight > 0 && run.audits[id].score !== null);
  const all = parts.reduce((sum, { weight }) => sum + weight, 0);
  const costs = parts.map(({ id, weight }) => ({ audit: run.audits[id], points: (100 * weight * (1 - run.audits[id].score)) / all }));
  return costs.filter(({ points }) => points >= 0.05).sort((a, b) => b.points - a.points);
}

/// What it would mend, though it costs no points by itself.
function advice_of(run) {
  const free = run.categories.performance.auditRefs.filter(({ weight }) => !weight).map(({ id }) => ({ audit: run.audits[id] }));
  return free.filter(({ audit }) => audit.score !== null && audit.score < 0.9 && audit.displayValue);
}

function print(runs) {
  let reached = true;
  for (const [category, least] of Object.entries(asked)) {
    const run = median_by(runs, score_of(category));
    const score = score_of(category)(run);
    reached &&= score >= least;
    console.log(`${category}: ${Math.round(100 * score)} (asked: ${Math.round(100 * least)}); runs: ${runs.map((one) => Math.round(100 * score_of(category)(one))).join(", ")}`);
    for (const { audit, points } of costs_of(run, category)) console.log(`  ${points.toFixed(1)} points: ${audit.title} ${audit.displayValue ?? ""}`);
  }
  const run = median_by(runs, score_of("performance"));
  for (const { audit } of advice_of(run)) console.log(`  advice: ${audit.title} ${audit.displayValue}`);
  console.log(`Lighthouse ${version}, median of ${runs.length}; first contentful paint ${Math.round(run.audits["first-contentful-paint"].numericValue)} ms`);
  return reached;
}

async function run_all(service) {
  const lighthouse = await lighthouse_here();
  const household = await service.household();
  const port = await free_port();
  const leave = await in_time(signed_in(service, household, port), run_s, "signing in");
  const runs = [];
  for (let run = 0; run < runs_to_make; run++) {
    const settings = { port, output: "html", logLevel: "error", disableStorageReset: true, onlyCategories: Object.keys(asked), maxWaitForLoad: 45_000 };
    const { lhr, report } = await in_time(lighthouse(`${service.base}/h/${household}`, settings), run_s, `run ${run + 1} of Lighthouse`);
    if (lhr.runtimeError) throw new Error(`run ${run + 1} of Lighthouse: ${lhr.runtimeError.message}`);
    runs.push(lhr);
    if (process.argv.includes("--report")) writeFileSync(join(folder, `report_${run}.html`), report);
  }
  await leave();
  return runs;
}

const service = await access_services.filter(({ there }) => there).at(-1).start();
let reached = false;
try {
  reached = print(await run_all(service));
} catch (error) {
  console.error(`no figures: ${error.message}`);
}
await service.stop();
process.exit(reached ? 0 : 1);  // a run that hangs would keep the command
