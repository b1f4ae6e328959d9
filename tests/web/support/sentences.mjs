// SPDX-License-Identifier: MIT
// What a person would read in a source of the pages: text between tags, and string literals that are sentences or stand
// where words stand. Codes, paths, classes, and what is only compared are none.
import { readFileSync } from "node:fs";
import { require_web } from "./browser.mjs";

const ts = require_web("typescript");

const spoken_places = new Set(["words", "hint", "legend", "title", "detail", "more", "aria-label", "after", "send_words", "about", "label"]);
const silent_places = new Set(["class", "d", "viewBox", "transform", "rel", "role", "style", "needs", "screen", "value", "name", "type", "key", "id"]);
const names = new Set(["English", "Español", "CSV"]);

const is_sentence = (text) => /[a-z]{3}/.test(text) && (/^[“A-Z][a-z]*[ ,:.][^{};=]*[a-z]/.test(text.trim()) || /^[a-z’']+( [a-z’']+){2,}[.,:…]?$/i.test(text.trim()));
const is_word = (text) => /^[A-Za-z][a-z]+[.:…?]?$/.test(text.trim()) || is_sentence(text);

function place_of(node) {
  if (ts.isPropertyAssignment(node.parent)) return node.parent.name.getText();
  for (let above = node.parent; above; above = above.parent) if (ts.isJsxAttribute(above)) return above.name.getText();
  return "";
}

const is_compared = ({ parent }) => ts.isBinaryExpression(parent) && /==|^in$/.test(parent.operatorToken.getText());
const is_told = ({ parent }) => ts.isCallExpression(parent) && /^(tell|fill)$/.test(parent.expression.getText());

function text_of(node) {
  if (ts.isJsxText(node) || ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node)) return node.text;
  return ts.isTemplateExpression(node) ? [node.head.text, ...node.templateSpans.map((span) => span.literal.text)].join(" ") : null;
}

export const sentences_of = (path) => sentences_in(readFileSync(path, "utf8"), path);

export function sentences_in(source, path = "page.tsx") {
  const file = ts.createSourceFile(path, source, ts.ScriptTarget.Latest, true);
  const found = [];
  const visit = (node) => {
    if (ts.isImportDeclaration(node) || ts.isTypeNode(node) || ts.isThrowStatement(node)) return;
    const text = text_of(node);
    if (text !== null && !names.has(text.trim()) && !is_compared(node) && !is_told(node)) {
      const place = place_of(node);
      const spoken = ts.isJsxText(node) ? /[A-Za-z]{2}/.test(text) : spoken_places.has(place) ? is_word(text) && !/^[a-z_]+$/.test(text) : !silent_places.has(place) && is_sentence(text);
      if (spoken) found.push(text.trim());
    }
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}
