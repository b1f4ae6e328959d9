// SPDX-License-Identifier: MIT
// The table of OWASP's requirements says something of each, and names no test that is not there.

const verdicts = new Set(['met', 'partly', 'not met', 'does not apply']);

/** "V1.2.6-8" is V1.2.6, V1.2.7, V1.2.8. */
function numbers(cell) {
  const [, section, first, last] = cell.match(/^(V\d+\.\d+)\.(\d+)(?:-(\d+))?$/) ?? [];
  if (!section) return [];
  return Array.from({ length: Number(last ?? first) - Number(first) + 1 }, (_, i) => `${section}.${Number(first) + i}`);
}

/** How many requirements each verdict has, and what is wrong with the table. ASVS 5.0.0 has 70 of level 1 and 183 of level 2. */
export function readAsvs(text, paths, expected = 70 + 183) {
  const seen = new Set();
  const counts = {};
  const objections = [];
  for (const row of text.matchAll(/^\| (V[^|]*?) \| ([^|]*?) \| (.*) \|$/gm)) {
    const [, cell, verdict, reason] = row;
    const all = numbers(cell);
    if (all.length === 0) objections.push(`${cell} is no requirement`);
    if (!verdicts.has(verdict)) objections.push(`${cell}: "${verdict}" is no verdict`);
    for (const number of all) {
      if (seen.has(number)) objections.push(`${number} comes twice`);
      seen.add(number);
      counts[verdict] = (counts[verdict] ?? 0) + 1;
    }
    for (const [, path] of reason.matchAll(/`((?:tests|server|web|data|demo)\/[\w./-]+)`/g)) {
      if (!paths.some((one) => one === path || one.startsWith(path))) objections.push(`${cell} names ${path}, which is not there`);
    }
  }
  if (seen.size !== expected) objections.push(`${seen.size} requirements instead of ${expected}`);
  return { counts, objections };
}
