// SPDX-License-Identifier: MIT
// The main journeys once more, in a language 40 % longer than English and in one read from the right (support/languages.mjs):
// the same tests of other files, made by a run of their own. Any other file can be run so too.
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import test from "node:test";
import { fileURLToPath } from "node:url";
import { languages } from "./support/languages.mjs";

/// By file, the beginnings of its tests.
const journeys = {
  acting: ["wrong cells stand in the alarm colour", "where a side is to be changed (now)", "a side that stopped says", "where the lower card alone asks"],
  two_taps: ["the button of the side, then that of the form"],
  recording: ["each side reads one of the four phrases", "a reading is confirmed in words", "a change asks once more", "a warning leaves one sentence", "a record of the wrong side"],
  signal: ["a warning that is not sent yet", "a low reading that is not sent yet", "comes back in its form if it is refused"],
  undo: ["is undone in place for two minutes"],
  wrong: ["the number that the agency entered", "where no number is entered"],
  plans: ["a visit is recorded for the sides", "in hospital nothing is forecast"],
};
const files = Object.keys(journeys).map((name) => fileURLToPath(new URL(`./${name}.test.mjs`, import.meta.url)));
const begins = Object.values(journeys).flat();
const expression = (text) => `^${text.replace(/[().]/g, "\\$&")}`;

/// Against the stand-in alone, whose words are known.
function run_in(language) {
  const { NODE_TEST_CONTEXT: _, ...env } = process.env;
  const patterns = begins.map((text) => `--test-name-pattern=${expression(text)}`);
  const child = spawn(process.execPath, ["--test", "--test-reporter=tap", ...patterns, ...files], { env: { ...env, CELLARER: "/nowhere", BASE_URL: "", CELLARER_TEST_LANGUAGE: language }, stdio: ["ignore", "pipe", "inherit"] });
  let said = "";
  child.stdout.on("data", (part) => (said += part));
  return new Promise((resolve) => child.once("exit", (code) => resolve({ code, said })));
}

for (const [language, { what }] of Object.entries(languages)) {
  test(`the main journeys are made in a language ${what}`, async () => {
    const { code, said } = await run_in(language);
    const made = said.split("\n").filter((line) => /^\s*ok /.test(line) && !/# SKIP/.test(line)).map((line) => line.replace(/^\s*ok \d+ - /, ""));
    const faults = said.split("\n").filter((line) => /^\s*not ok /.test(line) || /waiting for|error:/.test(line));
    assert.deepEqual(faults, []);
    assert.equal(code, 0, said);
    assert.deepEqual(begins.filter((text) => !made.some((name) => name.replaceAll("\\", "").startsWith(text))), [], "each was made");
  });
}
