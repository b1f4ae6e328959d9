// SPDX-License-Identifier: MIT
// The README's accuracy table is what the command that it names prints.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { test } from "node:test";

const root = fileURLToPath(new URL("../..", import.meta.url));
const cellarer = process.env.CELLARER ?? `${root}/build/server/cellarer`;

/** The figures of the summary's rows, in order: found, at most; ridge's own stand in the second column of its rows. */
function printed() {
  const lines = execFileSync(cellarer, ["fit", `${root}/data/cells`, "--table"], { encoding: "utf8" }).split("\n");
  return lines.map((line) => line.match(/^\s*(\S.*?)\s+(\d+\.\d\d) %\s+(\d+\.\d\d) %\s*$/)).filter(Boolean)
    .map(([, what, found, atMost]) => ({ what, found, atMost }));
}

test("the README's accuracy table is what cellarer fit data/cells --table prints", () => {
  const rows = readFileSync(`${root}/README.md`, "utf8").split("\n").filter((line) => /^\| .* \d+\.\d\d % \| [\d.]+ % \|$/.test(line));
  const shown = rows.map((row) => row.match(/(\d+\.\d\d) % \| ([\d.]+) % \|$/));
  const command = printed();
  const own = command.filter(({ what }) => !what.includes("ridge"));
  assert.equal(own.length, 6);
  assert.deepEqual(shown.map(([, found]) => found), own.map(({ found }) => found));
  assert.deepEqual(shown.map(([, , atMost]) => Number(atMost)), own.map(({ atMost }) => Number(atMost)));
  const ridge = rows.map((row) => row.match(/ridge regression: (\d+\.\d\d) %/)?.[1]).filter(Boolean);
  assert.deepEqual(ridge, command.filter(({ what }) => what.includes("ridge")).map(({ atMost }) => atMost));
});
