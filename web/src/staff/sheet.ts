// SPDX-License-Identifier: MIT
// Styles of the desks. They come inside the file that needs them, so that a phone of a home never fetches them.

const worn = new Set<string>();

/// `text` is what an import of a .css file gives (web/build.mjs); wearing it twice is wearing it once.
export function wear(text: string): void {
  if (worn.has(text)) return;
  worn.add(text);
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(text);
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
}
