// SPDX-License-Identifier: MIT
// What people read must not promise: no page, message or answer says that a side is safe, good or OK.
import { stringsOf, withoutComments } from './tree.mjs';

const promise = /\b(safe|safely|good|okay|all right|guarantee[ds]?)\b/i;
const shout = /\bOK\b|[\u2713\u2714\u2705\u{1F7E2}\u{1F50B}]/u;

const reads = (file) => /^web\/src\/.*\.(ts|tsx|html|json)$/.test(file.path) || /^web\/[^/]+\.html$/.test(file.path) ||
  /^(server|model)\/.*\.(cpp|hpp)$/.test(file.path);

/** Text between the tags of a page's source. */
function* tagText(file) {
  const text = withoutComments(file.text);
  for (const match of text.matchAll(/>([^<>{}]+)</g)) {
    if (/[a-z]/i.test(match[1])) yield { line: text.slice(0, match.index).split('\n').length, words: match[1] };
  }
}

/** The words that section "what protects people" forbids, in sentences that a person reads. */
export function promises(files) {
  const objections = [];
  for (const file of files.filter(reads)) {
    const sentences = stringsOf(file.text).filter((one) => !/^[\w./@:#-]*$/.test(one.words) || /^(safe|good|ok|okay)$/i.test(one.words));
    for (const sentence of [...sentences, .../\.(tsx|html)$/.test(file.path) ? tagText(file) : []]) {
      const match = sentence.words.match(promise) ?? sentence.words.match(shout);
      if (match) objections.push(`${file.path}:${sentence.line} says "${match[0]}": ${sentence.words.trim().slice(0, 80)}`);
    }
  }
  return objections;
}

const drawnBattery = /\bbattery[-_ ]?(icon|level|bars?)\b/i;

/** No drawn battery with bars, in pictures or in styles. */
export function drawnBatteries(files) {
  return files
    .filter((file) => file.path.startsWith('web/') && !file.path.endsWith('package-lock.json') && drawnBattery.test(file.text))
    .map((file) => `${file.path} draws a battery; a level is what the unit shows`);
}
