// SPDX-License-Identifier: MIT
// The project as the style rules see it: its files with their text, whether committed yet or not.
import { execFileSync } from 'node:child_process';
import { readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');

const code = /\.(cpp|hpp|h|ts|tsx|js|mjs|css|sh|sql|cmake)$/;
const binary = /\.(png|jpg|ico|woff2|gz|br)$/;

/** One file: `path` from the project's top, `text` (empty for pictures), `lines`, whether it `isCode`. */
export function asFile(path, text, executable = false) {
  const isScript = /^#!.*\b(bash|sh|node)\b/.test(text);
  const lines = text.replace(/\n$/, '').split('\n');
  return { path, text, lines, executable, isCode: code.test(path) || isScript || /(^|\/)CMakeLists\.txt$/.test(path) };
}

/** Every file that is, or is about to be, under version control. */
export function readTree(top = root) {
  const listed = execFileSync('git', ['-c', 'safe.directory=*', 'ls-files', '-z', '--cached', '--others', '--exclude-standard'],
    { cwd: top, encoding: 'utf8', maxBuffer: 1 << 26 });
  const files = [];
  for (const path of [...new Set(listed.split('\0'))].filter(Boolean).sort()) {
    const status = statSync(join(top, path), { throwIfNoEntry: false });
    if (!status?.isFile()) continue;
    files.push(asFile(path, binary.test(path) ? '' : readFileSync(join(top, path), 'utf8'), (status.mode & 0o100) !== 0));
  }
  return files;
}

/** C++ or script text with its comments blanked, line for line, and the strings kept. */
export function withoutComments(text) {
  const keep = /R"(\w*)\([^]*?\)\1"|"(?:[^"\\\n]|\\.)*"|(?<![0-9])'(?:[^'\\\n]|\\.)*'|`(?:[^`\\]|\\.)*`|\/\/[^\n]*|\/\*[^]*?\*\//g;
  return text.replace(keep, (piece) => (piece.startsWith('/') ? piece.replace(/[^\n]/g, ' ') : piece));
}

/** The string literals of a file, each with its line. */
export function stringsOf(text) {
  const found = [];
  const literal = /R"\w*\(([^]*?)\)\w*"|"((?:[^"\\\n]|\\.)*)"|(?<![0-9])'((?:[^'\\\n]|\\.)*)'|`((?:[^`\\]|\\.)*)`/g;
  const bare = withoutComments(text);
  for (const match of bare.matchAll(literal)) {
    const line = bare.slice(0, match.index).split('\n').length;
    found.push({ line, words: match[1] ?? match[2] ?? match[3] ?? match[4] });
  }
  return found;
}
