// SPDX-License-Identifier: MIT
// Bundles the pages into web/dist: hashed names, one index.html, and a .br and .gz beside each file, so that
// the service only ever copies bytes. Prints what each file weighs over the wire.
import { createHash } from "node:crypto";
import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { brotliCompressSync, constants, gzipSync } from "node:zlib";
import * as esbuild from "esbuild";

const here = dirname(fileURLToPath(import.meta.url));
const dist = join(here, "dist");
const budget_bytes = 60 * 1024;

/// The chart draws straight lines only. uPlot hangs its other kinds of line on itself, where no bundler can see that
/// they are not used; without them the drawing weighs a tenth less.
const straight_lines_only = {
  name: "straight-lines-only",
  setup(build) {
    build.onLoad({ filter: /uPlot\.esm\.js$/ }, ({ path }) => {
      const source = readFileSync(path, "utf8");
      const contents = source.replace(/^\s*\(paths\.(stepped|bars|spline) *= \w+\);$/gm, "");
      if (contents === source) throw new Error("uPlot hangs its lines on itself in another way now: look at straight_lines_only");
      return { contents };
    });
  },
};

async function bundle() {
  const result = await esbuild.build({
    absWorkingDir: here,
    entryPoints: ["src/main.tsx", "src/style.css"],
    outdir: "dist",
    bundle: true,
    splitting: true,
    format: "esm",
    target: ["es2022"],
    minify: true,
    legalComments: "none",
    metafile: true,
    entryNames: "[name]-[hash]",
    chunkNames: "part-[hash]",
    logLevel: "warning",
    plugins: [straight_lines_only],
  });
  const files = Object.entries(result.metafile.outputs).map(([path, output]) => ({ name: basename(path), ...output }));
  const entry = (source) => files.find((file) => file.entryPoint === source);
  const main = entry("src/main.tsx");
  const first = main.imports.filter((use) => use.kind === "import-statement").map((use) => basename(use.path));
  return { names: files.map((file) => file.name), main: main.name, style: entry("src/style.css").name, first };
}

function hashed_copy(source) {
  const bytes = readFileSync(join(here, source));
  const hash = createHash("sha256").update(bytes).digest("hex").slice(0, 8).toUpperCase();
  const name = basename(source).replace(/(\.\w+)$/, `-${hash}$1`);
  writeFileSync(join(dist, name), bytes);
  return name;
}

function write_index({ main, style, first, icon }) {
  const preload = first.map((name) => `<link rel="modulepreload" href="/${name}">`).join("\n    ");
  const filled = { main, style, icon, preload };
  const html = readFileSync(join(here, "index.html"), "utf8").replace(/%(\w+)%/g, (_, word) => filled[word]);
  writeFileSync(join(dist, "index.html"), html);
}

function compress(name) {
  const bytes = readFileSync(join(dist, name));
  const brotli = brotliCompressSync(bytes, {
    params: { [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length },
  });
  const gzip = gzipSync(bytes, { level: 9 });
  writeFileSync(join(dist, `${name}.br`), brotli);
  writeFileSync(join(dist, `${name}.gz`), gzip);
  return { name, plain: bytes.length, gzip: gzip.length, brotli: brotli.length };
}

function print_manifest(rows) {
  const total = { name: "in all", plain: 0, gzip: 0, brotli: 0 };
  for (const row of rows) for (const kind of ["plain", "gzip", "brotli"]) total[kind] += row[kind];
  const line = (row) => console.log([row.name.padEnd(28), ...[row.plain, row.gzip, row.brotli].map((n) => String(n).padStart(8))].join(""));
  line({ name: "web/dist [bytes]", plain: "plain", gzip: "gzip", brotli: "brotli" });
  rows.forEach(line);
  line(total);
  if (total.gzip > budget_bytes) throw new Error(`the pages weigh ${total.gzip} bytes over the wire; ${budget_bytes} is the limit`);
}

rmSync(dist, { recursive: true, force: true });
mkdirSync(dist, { recursive: true });
const bundled = await bundle();
const icon = hashed_copy("src/icon.svg");
write_index({ ...bundled, icon });
print_manifest([...bundled.names, icon, "index.html"].map(compress));
