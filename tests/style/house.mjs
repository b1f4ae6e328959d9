// SPDX-License-Identifier: MIT
// What stands where, how long it may be, and what every file carries.
import { existsSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';

const top = new Set(['CMakeLists.txt', 'README.md', 'DEVELOPERS.md', 'LICENSE', 'model', 'server', 'web', 'data', 'demo', 'tests']);

/** Nothing at the top but what the design names, and dotfiles. */
export function strangersAtTheTop(files) {
  const names = [...new Set(files.map((file) => file.path.split('/')[0]))];
  return names.filter((name) => !top.has(name) && !name.startsWith('.')).map((name) => `${name} does not belong at the top`);
}

const longest = 400;
const usual = 250;

/** No code file over 400 lines, nine in ten at most 250. */
export function tooLong(files) {
  const code = files.filter((file) => file.isCode);
  const objections = code.filter((file) => file.lines.length > longest).map((file) => `${file.path} has ${file.lines.length} lines, over ${longest}`);
  const long = code.filter((file) => file.lines.length > usual);
  if (long.length * 10 > code.length) {
    objections.push(`${long.length} of ${code.length} code files have over ${usual} lines, more than one in ten: ${long.map((file) => file.path).join(', ')}`);
  }
  return objections;
}

/** Every code file names its licence in its first lines. */
export function withoutLicence(files) {
  return files
    .filter((file) => file.isCode && !file.lines.slice(0, 3).some((line) => line.includes('SPDX-License-Identifier: MIT')))
    .map((file) => `${file.path} lacks its line SPDX-License-Identifier: MIT`);
}

const machinePath = /(?<![\w.$}])\/(home|Users|root|work|tmp\/[a-z]|var\/tmp)\/[\w.-]+/;

/** No path of one machine in a committed file: it would work there alone. */
export function machinePaths(files) {
  const objections = [];
  for (const file of files.filter((one) => !one.path.endsWith('package-lock.json') && !one.path.startsWith('tests/style/'))) {
    file.lines.forEach((line, index) => {
      const match = line.match(machinePath);
      if (match) objections.push(`${file.path}:${index + 1} names a path of one machine: ${match[0]}`);
    });
  }
  return objections;
}

const leftOpen = /\b(TODO|FIXME|XXX|HACK|not implemented|stub)\b/;

/** Nothing left open in the code. */
export function openEnds(files) {
  const objections = [];
  for (const file of files.filter((one) => one.isCode && !one.path.startsWith('tests/style/'))) {
    file.lines.forEach((line, index) => {
      if (leftOpen.test(line)) objections.push(`${file.path}:${index + 1} leaves something open: ${line.trim()}`);
    });
  }
  return objections;
}

/** The README's two commands are scripts that stand there and can be run, and it shows both. */
export function commandsNotThere(files) {
  const readme = files.find((file) => file.path === 'README.md');
  if (!readme) return ['README.md is missing'];
  const blocks = [...readme.text.matchAll(/```[^\n]*\n([^]*?)```/g)].map((match) => match[1]).join('\n');
  const objections = [];
  for (const command of ['demo/run', 'tests/run']) {
    if (!new RegExp(`^\\s*(\\$ )?(\\./)?${command}\\b`, 'm').test(blocks)) objections.push(`README.md does not show ${command} in a block`);
    const script = files.find((file) => file.path === command);
    if (!script?.executable) objections.push(`${command} is not a script that can be run`);
  }
  for (const match of blocks.matchAll(/^\s*(?:\$ )?(?:\.\/)?((?:demo|tests)\/[\w./-]+)/gm)) {
    if (!files.some((file) => file.path === match[1])) objections.push(`README.md shows ${match[1]}, which is not there`);
  }
  return objections;
}

/** Every relative link and picture of the documents leads somewhere. */
export function deadLinks(files, onDisk = existsSync, root = '.') {
  const objections = [];
  const known = new Set(files.map((file) => file.path));
  for (const file of files.filter((one) => one.path.endsWith('.md'))) {
    const prose = file.text.replace(/```[^]*?```/g, '');
    for (const match of prose.matchAll(/\]\(([^)\s]+)[^)]*\)|<img[^>]*\bsrc="([^"]+)"/g)) {
      const link = (match[1] ?? match[2]).split('#')[0];
      if (!link || /^[a-z]+:/i.test(link)) continue;
      const path = normalize(join(dirname(file.path), link)).replace(/\/$/, '');
      if (!known.has(path) && !(onDisk(join(root, path)) && [...known].some((one) => one.startsWith(`${path}/`)))) {
        objections.push(`${file.path} links to ${link}, which is not there`);
      }
    }
  }
  return objections;
}

const looseArithmetic = /-Ofast\b|-f(?:fast|unsafe|associative|reciprocal|finite)-math|\bfast-math\b/;

/** No file has the compiler reckon otherwise than is written (-ffast-math and what it consists of): a forecast is the same everywhere. */
export function looseArithmeticOf(files) {
  return files.filter((file) => file.isCode && !file.path.startsWith('tests/style/'))
    .flatMap((file) => file.lines.map((line, index) => (looseArithmetic.test(line) ? `${file.path}:${index + 1} has numbers reckoned loosely: ${line.trim()}` : '')).filter(Boolean));
}
