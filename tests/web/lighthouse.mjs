// SPDX-License-Identifier: MIT
// Prints what Lighthouse finds on a household's page, signed in, for a phone on a slow line: the median of three runs. The
// version is pinned here and put into build/lighthouse by npm the first time.  node tests/web/lighthouse.mjs [--report]
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

async function lighthouse_here() {
  const entry = join(folder, "node_modules/lighthouse/package.json");
  const here = existsSync(entry) && createRequire(import.meta.url)(entry).version === version;
  mkdirSync(folder, { recursive: true });
  if (!here) execFileSync("npm", ["install", "--prefix", folder, "--no-save", "--no-audit", "--no-fund", `lighthouse@${version}`], { stdio: "inherit", env: { ...process.env, PUPPETEER_SKIP_DOWNLOAD: "1" } });
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
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", headless: true, args: ["--no-sandbox", "--disable-gpu", `--remote-debugging-port=${port}`],
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

const lighthouse = await lighthouse_here();
const service = await access_services.filter(({ there }) => there).at(-1).start();
const household = await service.household();
const port = await free_port();
const leave = await signed_in(service, household, port);
const runs = [];
for (let run = 0; run < 3; run++) {
  const { lhr, report } = await lighthouse(`${service.base}/h/${household}`, { port, output: "html", logLevel: "error", disableStorageReset: true, onlyCategories: Object.keys(asked) });
  runs.push(lhr);
  if (process.argv.includes("--report")) writeFileSync(join(folder, `report_${run}.html`), report);
}
await leave();
await service.stop();

const median = (values) => [...values].sort((a, b) => a - b)[1];
let reached = true;
for (const [category, least] of Object.entries(asked)) {
  const score = median(runs.map((run) => run.categories[category].score));
  reached &&= score >= least;
  console.log(`${category}: ${Math.round(100 * score)} (asked: ${Math.round(100 * least)})`);
}
const audits = (run, category) => run.categories[category].auditRefs.map(({ id }) => run.audits[id]).filter((audit) => audit.score !== null && audit.score < 1 && audit.scoreDisplayMode === "binary");
for (const category of ["accessibility", "best-practices"]) for (const audit of audits(runs[0], category)) console.log(`  ${category}: ${audit.title}`);
console.log(`Lighthouse ${version}, median of three; first contentful paint ${Math.round(median(runs.map((run) => run.audits["first-contentful-paint"].numericValue)))} ms`);
process.exitCode = reached ? 0 : 1;
