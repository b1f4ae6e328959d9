// SPDX-License-Identifier: MIT
// Every number has a passport, and every test can fail.
import { withoutComments } from './tree.mjs';

/** The place of a number for which neither its object nor one around it names a source, a basis or what it is taken from. */
function numberWithoutSource(value, place) {
  if (typeof value === 'number') return place;
  if (value === null || typeof value !== 'object') return null;
  if (value.source || value.basis || typeof value.from === 'string') return null;
  for (const [name, part] of Object.entries(value)) {
    const bare = numberWithoutSource(part, `${place}/${name}`);
    if (bare !== null) return bare;
  }
  return null;
}

/** The data files parse, and each says where its numbers come from: a source with a title and its basis, or a basis. */
export function withoutSource(files) {
  const objections = [];
  for (const file of files.filter((one) => /^data\/.*\.json$/.test(one.path))) {
    let value;
    try {
      value = JSON.parse(file.text);
    } catch (error) {
      objections.push(`${file.path} is not JSON: ${error.message}`);
      continue;
    }
    if (file.path.startsWith('data/schema/')) {
      if (!value.$schema || !value.title) objections.push(`${file.path} lacks $schema or title`);
    } else if (file.path.startsWith('data/cells/')) {
      if (!value.source?.title || !value.source?.basis) objections.push(`${file.path} lacks a source with title and basis`);
    } else {
      const bare = numberWithoutSource(value, '');
      if (bare !== null) objections.push(`${file.path} lacks a basis or a source for ${bare || 'what it holds'}`);
    }
  }
  return objections;
}

const always = /\b(CHECK|REQUIRE)\s*\(\s*(true|1|!false)\s*\)|\bSUCCEED\s*\(|\bassert(\.ok)?\s*\(\s*(true|1)\s*[,)]|\bexpect\s*\(\s*true\s*\)/;
const setAside = /\[!(mayfail|shouldfail|nonportable)\]|\b(test|it|describe)\.(skip|only|todo)\b|\{\s*(skip|todo|only):\s*true/;

/** No test that cannot fail, and none that is set aside. */
export function testsThatCannotFail(files) {
  const objections = [];
  for (const file of files.filter((one) => /^tests\/.*\.(cpp|mjs|js|ts)$/.test(one.path) && !one.path.startsWith('tests/style/'))) {
    const text = withoutComments(file.text);
    for (const [pattern, why] of [[always, 'cannot fail'], [setAside, 'is set aside']]) {
      const match = text.match(pattern);
      if (match) objections.push(`${file.path}: a test ${why} (${match[0]})`);
    }
  }
  return objections;
}

const asserts = /\b(CHECK|REQUIRE)\w*\s*\(|\bassert\w*(\.\w+)?\s*\(|\bexpect\w*\s*\(|\.waitFor(Selector|Function|URL)?\s*\(/;
const helper = /\n([ \t]*)(?:(?:export )?(?:async )?function|const|void|auto|bool) (\w+)\s*(?:=|\()/g;

/** The file's own functions that assert: a test that calls one asserts. A body ends where the next begins at its depth. */
function assertingHelpers(text) {
  const starts = [...text.matchAll(helper)];
  return starts.filter((match, index) => {
    const after = starts.slice(index + 1).find((one) => one[1].length <= match[1].length);
    return asserts.test(text.slice(match.index, after?.index).split(/\n\s*(?:TEST_CASE|test|describe)\(/)[0]);
  }).map((match) => match[2]);
}

/** Every test asserts something, and its name is a sentence. */
export function testsWithoutSentence(files) {
  const objections = [];
  for (const file of files.filter((one) => /^tests\/.*\.(cpp|test\.mjs)$/.test(one.path))) {
    const starts = [...file.text.matchAll(/^\s*(?:TEST_CASE|SCENARIO|test|it)\s*\(\s*(["'`])((?:(?!\1)[^\\]|\\.)*)\1/gm)];
    const helpers = assertingHelpers(withoutComments(file.text));
    const calls = new RegExp(`\\b(${['CHECK', ...helpers].join('|')})\\s*\\(`);
    starts.forEach((match, index) => {
      const body = file.text.slice(match.index + match[0].length, starts[index + 1]?.index ?? file.text.length);
      if (match[2].trim().split(/\s+/).length < 3) objections.push(`${file.path}: "${match[2]}" is not a sentence`);
      if (!asserts.test(withoutComments(body)) && !calls.test(withoutComments(body))) objections.push(`${file.path}: "${match[2]}" asserts nothing`);
    });
  }
  return objections;
}

const faultRow = /\b(?:at_least|at_most_one_in_200|nine_in_ten)\(\s*"((?:[^"\\]|\\.)*)"/g;
const furtherRow = /\btable\.add\(\{\s*"((?:[^"\\]|\\.)*)"/g;

const targetRow = /\brows\.push_back\(\s*\{\s*"((?:[^"\\]|\\.)*)"/g;

/** The first place at which two lists of names differ, as an objection. */
function differs(printed, shown, kind, program) {
  const rows = Math.max(printed.length, shown.length);
  const wrong = Array.from({ length: rows }, (_, at) => at).find((at) => printed[at] !== shown[at]);
  return wrong === undefined ? [] : [`README.md shows the ${kind} "${shown[wrong] ?? 'none'}" where ${program} prints "${printed[wrong] ?? 'none'}"`];
}

/** The names in the first column of README's table that begins with this head. */
function namesInReadme(readme, head) {
  const table = readme.split(head)[1]?.split('\n\n')[0] ?? '';
  return table.split('\n').slice(2).map((line) => line.split('|')[1]?.trim()).filter(Boolean);
}

/** README's table of the field trial has the rows that the program prints, by their names and in their order. */
export function trialTableOfReadme(files) {
  const text = (path) => files.find((file) => file.path === path)?.text ?? '';
  const named = (path) => [...text(path).matchAll(targetRow)].map((match) => match[1].replace(/\\"/g, '"'));
  const printed = [...named('tests/bench/report/verdicts.cpp'), ...named('tests/bench/real_cells_report.cpp')];
  return differs(printed, namesInReadme(text('README.md'), '| what | to reach | found | beside it |'), 'row of the field trial', 'field_trial');
}

/** README's table of simulated faults has the rows that the program prints, by their names and in their order. */
export function faultTableOfReadme(files) {
  const text = (path) => files.find((file) => file.path === path)?.text ?? '';
  const named = (path, row) => [...text(path).matchAll(row)].map((match) => match[1].replace(/\\"/g, '"'));
  const printed = [...named('tests/bench/faults/fault_figures.cpp', faultRow), ...named('tests/bench/faults/fault_trial.cpp', furtherRow)];
  return differs(printed, namesInReadme(text('README.md'), '| fault | to reach | found |'), 'fault', 'fault_trial');
}
