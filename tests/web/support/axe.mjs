// SPDX-License-Identifier: MIT
// What axe objects to on a page as it stands, and by how much it is wider than the screen.
import { require_web } from "./browser.mjs";

const axe_source = require_web("axe-core").source;
const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

/// `but`: rules left out. Where targets are measured by a test of their own, that is "target-size": axe's 24 px would
/// count one that is half scrolled away.
export async function objections(page, { but = ["target-size"] } = {}) {
  if (!(await page.evaluate(() => "axe" in window))) await page.evaluate(axe_source);
  const violations = await page.evaluate(
    async ({ tags, but }) => {
      const rules = Object.fromEntries(but.map((rule) => [rule, { enabled: false }]));
      const found = await window.axe.run(document, { runOnly: { type: "tag", values: tags }, rules, resultTypes: ["violations"] });
      return found.violations.map((one) => `${one.id}: ${one.nodes[0].html.slice(0, 200)}`);
    },
    { tags, but },
  );
  const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  return [...violations, ...(over > 0 ? [`${over} px too wide`] : [])];
}
