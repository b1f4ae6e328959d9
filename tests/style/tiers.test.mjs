// SPDX-License-Identifier: MIT
// How tests/run runs the C++ tiers, tried on programs that only say what Catch2 says.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import test from 'node:test';

import { root } from './tree.mjs';

const passes = (cases) => `echo "All tests passed (9 assertions in ${cases} test cases)"`;
const lists = (cases) => `echo "${cases} matching test cases"; exit ${cases}`;

// A tier's program in shell: what it does when it is asked to list, and to run; `alone` when it is given those cases.
function program({ listed, alone = 0, run, run_alone = passes(alone) }) {
  return `#!/bin/bash
[[ "$*" == *"~[alone]"* ]] && set -- "$@" others
case "$*" in
  *--list-tests*others) ${lists(listed - alone)} ;;
  *--list-tests*"[alone]"*) ${lists(alone)} ;;
  *--list-tests*) ${lists(listed)} ;;
  *others) ${run} ;;
  *) ${run_alone} ;;
esac
`;
}

// What the tiers' functions say of these programs, two at a time.
function told(programs, settings = '') {
  const folder = mkdtempSync(`${tmpdir()}/cellarer-tiers-`);
  try {
    mkdirSync(`${folder}/build/tests`, { recursive: true });
    for (const [tier, text] of Object.entries(programs)) {
      writeFileSync(`${folder}/build/tests/test_${tier}`, text);
      chmodSync(`${folder}/build/tests/test_${tier}`, 0o755);
    }
    const script = `set -euo pipefail
      root=${folder}
      . "${root}/demo/steps.sh"; . "${root}/tests/support/tiers.sh"
      trap 'closing_line $?' EXIT
      ${settings}
      cpp_tiers_run 2 "$root/build" '~[.]' ${Object.keys(programs).join(' ')}`;
    const { status, stdout, stderr } = spawnSync('bash', ['-c', script], { encoding: 'utf8' });
    return { status, said: stdout + stderr, last: stdout.trim().split('\n').at(-1) };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const good = program({ listed: 3, run: passes(3) });

test('tiers that pass are added up, and cases that run alone are counted with the others', () => {
  const { status, last } = told({ one: good, two: program({ listed: 5, alone: 2, run: passes(3) }) });
  assert.equal(status, 0);
  assert.equal(last, '8 passed, 0 failed');
});

test('a case that fails stops the run; what passed before it is counted, and its own words are shown', () => {
  const fails = program({ listed: 3, run: 'sleep 0.5; echo "a.cpp:3: FAILED:"; echo "test cases: 3 | 2 passed | 1 failed"; exit 1' });
  const { status, said, last } = told({ one: good, two: fails });
  assert.equal(status, 1);
  assert.match(said, /first: 1:a\.cpp:3: FAILED:/);
  assert.match(said, /stopped: tests: two: 1 of its cases failed/);
  assert.equal(last, '5 passed, 1 failed');
});

test('a program that ends badly has failed, whatever it counted', () => {
  for (const run of [`${passes(3)}; echo "AddressSanitizer: leak"; exit 23`, 'kill -SEGV $$']) {
    const { status, said, last } = told({ one: program({ listed: 3, run }) });
    assert.equal(status, 1);
    assert.match(said, /stopped: tests: one: 1 of its cases failed/);
    assert.match(last, /^[03] passed, 1 failed$/);
  }
});

test('a tier that waits for ever is ended, and says so', () => {
  const { status, said, last } = told({ one: program({ listed: 3, run: 'sleep 60' }) }, 'cpp_tier_limit_s=1');
  assert.equal(status, 1);
  assert.match(said, /FAILED: it did not end within 1 s/);
  assert.equal(last, '0 passed, 1 failed');
});

test('a tier without a case, or that cannot say which it has, is a failure', () => {
  for (const text of [program({ listed: 0, run: 'exit 0' }), '#!/bin/bash\nexit 127\n']) {
    const { status, said, last } = told({ one: text });
    assert.equal(status, 1);
    assert.match(said, /stopped: tests: one: no test ran/);
    assert.equal(last, '0 passed, 1 failed');
  }
});

test('a tier that ran fewer cases than it lists has failed', () => {
  const { status, said } = told({ one: program({ listed: 3, run: passes(2) }) });
  assert.equal(status, 1);
  assert.match(said, /FAILED: of its 3 cases these passed and failed: 2 0/);
});

test('after a failure nothing else is begun, and what was not begun is not counted', () => {
  const fails = program({ listed: 1, run: 'exit 2' });
  const { status, said, last } = told({ one: fails, two: program({ listed: 1, run: 'sleep 1; exit 2' }), three: good });
  assert.equal(status, 1);
  assert.doesNotMatch(said, /three, all/);
  assert.equal(last, '0 passed, 1 failed');
});
