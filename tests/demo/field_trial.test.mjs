// SPDX-License-Identifier: MIT
// The field trial as the program that README names: its options, its figures, its seeds.
import assert from "node:assert/strict";
import { execFile } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { fileURLToPath } from "node:url";
import { test } from "node:test";

const root = fileURLToPath(new URL("../..", import.meta.url));
const program = process.env.FIELD_TRIAL ?? `${root}/build/tests/bench/field_trial`;

/** Runs it to its end: exit code, stdout, stderr. */
const run = (...words) => new Promise((resolve) => {
  execFile(program, words, { encoding: "utf8", maxBuffer: 1 << 24 }, (error, out, err) => resolve({ code: error ? error.code : 0, out, err }));
});

const figures = async (...words) => {
  const { code, out, err } = await run("--quick", "--json", ...words);
  assert.equal(code, 0, err);
  return { figures: JSON.parse(out), err };
};

test("--help names every option, and nothing is run", async () => {
  const { code, out } = await run("--help");
  assert.equal(code, 0);
  for (const option of ["--seed", "--households", "--json", "--quick", "--picture", "--progress"]) assert.match(out, new RegExp(`^ +${option}\\b`, "m"));
});

test("what is not understood ends with exit code 2, before any run, and says what would be right", async () => {
  for (const [words, right] of [
    [["--households", "3"], /--households.*\b8\D+1000000/],
    [["--seed", "-1"], /--seed.*\b0\D+1099511627776/],
    [["--seed", "one"], /--seed.*\b0\D+1099511627776/],
    [["--quick", "--households", "16"], /--quick excludes --households|--households excludes --quick/],
    [["--sede", "3"], /--sede[^]*--help/],
  ]) {
    const { code, out, err } = await run(...words);
    assert.equal(code, 2, words.join(" "));
    assert.equal(out, "");
    assert.match(err, right);
  }
});

test("a picture that cannot be written fails at once", async () => {
  const { code, out, err } = await run("--picture", `${root}/README.md/curve.svg`);
  assert.equal(code, 1);
  assert.equal(out, "");
  assert.match(err, /cannot write .*README\.md\/curve\.svg/);
});

test("a small run gives the figures, the same for the same seed and others for another", async () => {
  const folder = mkdtempSync(`${tmpdir()}/field-trial-`);
  try {
    const picture = `${folder}/curve.svg`;
    const [shown, silent, another] = await Promise.all([
      figures("--seed", "5", "--picture", picture, "--progress"), figures("--seed", "5"), figures("--seed", "6"),
    ]);
    const [first, again, other] = [shown, silent, another].map((one) => one.figures);
    const world = first.reference_world;
    for (const waste of [world.waste_percent_gauge, world.waste_five_steps]) assert.ok(waste > 0.05 && waste < 0.5, `a fraction: ${waste}`);
    // 8 households of two sides for 365 nights, with either gauge.
    for (const nights of [world.side_nights_kept, world.side_nights_missed]) assert.equal(Math.round(nights), 2 * 8 * 2 * 365);
    for (const runOuts of [world.run_outs_per_million_kept, world.run_outs_per_million_missed]) assert.ok(runOuts >= 0);
    // No slice has 2 000 sets in so small a run: no figure.
    assert.deepEqual(first.coverage90, { min: null, max: null });
    const error = first.half_life_error;
    assert.ok(error.known > 0 && error.known < error.unknown && error.unknown < 0.5, JSON.stringify(error));
    assert.equal(first.seed, 5);
    assert.equal(first.households, 8);

    const { seconds: _, ...figuresOfFirst } = first;
    const { seconds: __, ...figuresOfAgain } = again;
    assert.deepEqual(figuresOfAgain, figuresOfFirst);
    assert.notEqual(other.reference_world.waste_percent_gauge, world.waste_percent_gauge);
    assert.notEqual(other.reference_world.waste_five_steps, world.waste_five_steps);
    // The measured cells are the same whatever the seed.
    assert.deepEqual(other.real_cells, first.real_cells);

    assert.match(shown.err, /\[#+ *\] +\d+\.\d %  sweep: /);
    assert.match(shown.err, /100\.0 %  real cells/);
    assert.equal(silent.err, "", "no bar where standard error is no terminal");

    const drawn = readFileSync(picture, "utf8");
    assert.match(drawn, /prefers-color-scheme:dark/);
    for (const name of ["ours", "best possible", "one N a side", "one N for all"]) assert.equal(drawn.split(`>${name}</text>`).length - 1, 3, name);
  } finally {
    rmSync(folder, { recursive: true });
  }
});
