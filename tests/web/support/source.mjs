// SPDX-License-Identifier: MIT
// The page's own TypeScript, bundled in memory, so that its pure parts are tested as they are.
import { fileURLToPath } from "node:url";
import { require_web } from "./browser.mjs";

const esbuild = require_web("esbuild");
const web = fileURLToPath(new URL("../../../web/", import.meta.url));

/// `names` are modules under web/src, without their ending; what they export comes merged.
export async function load_source(...names) {
  const contents = names.map((name) => `export * from "./src/${name}";`).join("\n");
  const built = await esbuild.build({
    stdin: { contents, resolveDir: web, loader: "ts" }, bundle: true, write: false, format: "esm", platform: "neutral", jsx: "automatic",
    jsxImportSource: "preact", mainFields: ["module", "main"], logLevel: "warning",
  });
  return import(`data:text/javascript;base64,${Buffer.from(built.outputFiles[0].text).toString("base64")}`);
}
