// Bundles the page's script, style and fonts into ../static with hashed names and a list of them.

import { build } from "esbuild";
import { mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { brotliCompressSync } from "node:zlib";

const here = dirname(fileURLToPath(import.meta.url));
const out = join(here, "..", "static");
await rm(out, { recursive: true, force: true });
await mkdir(out, { recursive: true });
const done = await build({
  entryPoints: { page: join(here, "main.ts") },
  outdir: out,
  bundle: true,
  minify: true,
  splitting: true,
  format: "esm",
  target: "es2022",
  entryNames: "[name]-[hash]",
  chunkNames: "[name]-[hash]",
  assetNames: "[name]-[hash]",
  loader: { ".woff2": "file" },
  legalComments: "linked",
  metafile: true,
  logLevel: "warning",
});
const names = {};
for (const [file, told] of Object.entries(done.metafile.outputs)) {
  const name = relative(out, join(process.cwd(), file));
  // squeezed tighter than can be done while somebody waits
  if (/\.(js|css)$/.test(file)) await writeFile(`${file}.br`, brotliCompressSync(await readFile(file)));
  if (told.entryPoint?.endsWith("main.ts")) {
    names["page.js"] = name;
    if (told.cssBundle) names["page.css"] = relative(out, join(process.cwd(), told.cssBundle));
  }
}
await writeFile(join(out, "names.json"), JSON.stringify(names, null, 1) + "\n");
