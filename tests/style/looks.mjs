// SPDX-License-Identifier: MIT
// The pages' looks stand in the style files, and their colours in the tokens of the first.
import { stringsOf, withoutComments } from './tree.mjs';

const aPage = /^web\/src\/.*\.tsx?$/;
const aStyleFile = /^web\/src\/.*\.css$/;
const tokens = 'web/src/style.css';
/** Rows of the long list that are not drawn: their height is that of what stands in their place. */
const measured = ['web/src/desk/list/windowed.tsx'];

const colour = /^#(?:[0-9a-f]{3,4}|[0-9a-f]{6}|[0-9a-f]{8})$|\b(?:rgba?|hsla?|oklch|color-mix)\(/i;
const size = /(?:^|[\s:(])-?\d*\.?\d+(?:px|rem|em|vh|vw|dvh)\b/;

/** No colour, size or spacing stands in a page itself. */
export function looksInPages(files) {
  return files.filter((file) => aPage.test(file.path) && !measured.includes(file.path)).flatMap((file) => [
    ...stringsOf(file.text).filter(({ words }) => colour.test(words) || size.test(words)).map(({ line, words }) => `${file.path}:${line} has a colour or size of its own: ${words}`),
    ...file.lines.flatMap((text, index) => (/\bstyle=/.test(text) ? [`${file.path}:${index + 1} has a style of its own`] : [])),
  ]);
}

const literal = /#[0-9a-f]{3,8}\b|\b(?:rgba?|hsla?|oklch)\(|:\s*(?:black|white|red|green|blue|gr[ae]y|orange|yellow)\b/i;

/** Colours are written once, as tokens, and used by their names. */
export function coloursOutsideTokens(files) {
  return files.filter((file) => aStyleFile.test(file.path)).flatMap((file) => withoutComments(file.text).split('\n').flatMap((text, index) => {
    const isToken = file.path === tokens && /^\s*--[\w-]+:/.test(text);
    return literal.test(text) && !isToken ? [`${file.path}:${index + 1} has a colour that is no token: ${text.trim()}`] : [];
  }));
}
