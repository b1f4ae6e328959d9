// SPDX-License-Identifier: MIT
// Two languages that nobody speaks: every text 40 % longer, with letters that are higher and deeper than English ones;
// and one read from the right. Each text is changed as it comes, so that a screen is looked at as its translation would
// stand. Household's references, times and codes stay as they are.

const stretched = () => {
  const accented = { a: "á", e: "ê", i: "ï", o: "ö", u: "û", y: "ÿ", A: "Å", E: "É", I: "Î", O: "Ø", U: "Ü", n: "ñ", c: "ç", g: "ğ", s: "š" };
  const seen = new WeakSet();
  const stretch = (text) => {
    const longer = text.replace(/[a-zA-Z]/g, (letter) => accented[letter] ?? letter);
    const letters = (text.match(/[a-zA-Z]/g) ?? []).length;
    const words = "ōne twō three fōur ".repeat(20).slice(0, Math.ceil(letters * 0.4));
    return letters > 1 ? `${longer.trimEnd()} ${words.trimEnd()}` : text;
  };
  const visit = (node) => {
    const walker = document.createTreeWalker(node, NodeFilter.SHOW_TEXT);
    for (let text = walker.currentNode; text; text = walker.nextNode()) {
      if (text.nodeType !== Node.TEXT_NODE || seen.has(text) || text.parentElement?.closest(".unseen, .label, .link, .code, .codes, script, style")) continue;
      seen.add(text);
      text.data = stretch(text.data);
    }
  };
  addEventListener("DOMContentLoaded", () => {
    visit(document.body);
    new MutationObserver((changes) => changes.forEach(({ addedNodes }) => addedNodes.forEach(visit))).observe(document.body, { childList: true, subtree: true });
  });
};

const from_the_right = () => addEventListener("DOMContentLoaded", () => (document.documentElement.dir = "rtl"));

export const languages = { "40 % longer": stretched, "from the right": from_the_right };
