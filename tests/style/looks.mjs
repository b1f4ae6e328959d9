// SPDX-License-Identifier: MIT
// The pages' look stands in one file: every colour and every size is a token of it, and the style files use their names.
import { stringsOf, withoutComments } from './tree.mjs';

const aPage = /^web\/src\/.*\.tsx?$/;
const aStyleFile = /^web\/src\/.*\.css$/;
const tokens = 'web/src/look.css';
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

const literal = /#[0-9a-fA-F]{3,8}\b|\b(?:rgba?|hsla?|oklch)\(|:\s*(?:black|white|red|green|blue|gr[ae]y|orange|yellow)\b|\b(?:Canvas(?:Text)?|Highlight(?:Text)?|ButtonText|LinkText)\b/;

const aToken = /--[\w-]+:[^;{}]*;/g;

/** What stands in the style files beside tokens, line by line. */
function outsideTokens(files, unwanted, what) {
  return files.filter((file) => aStyleFile.test(file.path)).flatMap((file) => withoutComments(file.text).split('\n').flatMap((text, index) => {
    const rest = file.path === tokens ? text.replace(aToken, '') : text;
    return unwanted.test(rest) ? [`${file.path}:${index + 1} has a ${what} that is no token: ${text.trim()}`] : [];
  }));
}

/** Colours are written once, as tokens, and used by their names. */
export const coloursOutsideTokens = (files) => outsideTokens(files, literal, 'colour');

/** Whatever has a unit, but for the whole (100 %), nothing (0) and shares of what is left (fr). */
const sized = /(?<![\w#.-])-?(?!0[a-z%]|100%)\d*\.?\d+(?:%|(?:px|r?em|r?lh|ch|ex|[sld]?v(?:w|h|min|max|i|b)|cq(?:w|h|i|b)|mm|cm|in|pt|pc)\b)/;
export const sizesOutsideTokens = (files) => outsideTokens(files, sized, 'size');

/** A token that nothing uses is a size or a colour that no page has. */
export function tokensWithoutUse(files) {
  const look = files.find((file) => file.path === tokens);
  const names = new Set(withoutComments(look?.text ?? '').match(/--[\w-]+(?=:)/g));
  const used = files.filter((file) => aStyleFile.test(file.path) || aPage.test(file.path)).map((file) => file.text).join('\n');
  return [...names].filter((name) => !new RegExp(`${name}(?![\\w-]|:)`).test(used)).map((name) => `${tokens}: nothing uses ${name}`);
}
