// Puts both forms of the script together and prints the sizes. Called by build.sh with the folder of
// the core, the folder to write to, and the version.

import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { copyFileSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { brotliCompressSync, gzipSync } from "node:zlib";
import { describe } from "./describe.mjs";
import { trimmed } from "./glue.mjs";
import { sorted } from "./sort.mjs";
import { written } from "./written.mjs";
import { within } from "./within.mjs";

const [work, dist, version] = process.argv.slice(2);

// The glue of a core. wasm-opt has given what it imports and exports names of a letter or two; the glue must use
// them too.
function glued(folder) {
  const names = JSON.parse(readFileSync(`${folder}/names.json`, "utf8"));
  const imported = new Map(names.imports.map(([, long, short]) => [long, short]));
  const exported = new Map(names.exports);
  const wasm = readFileSync(`${folder}/core.wasm`);
  const [{ module }] = WebAssembly.Module.imports(new WebAssembly.Module(wasm));
  const glue = trimmed(readFileSync(`${folder}/plyline.js`, "utf8"), folder === work)
    .replaceAll(/(?<=^ +)__wb\w+(?=: )/gm, (long) => imported.get(long))
    .replaceAll(/(?<=\bwasm\.)\w+/g, (long) => exported.get(long))
    .replace(/"\.\/plyline_bg\.js"(?=: )/, module);
  // The glue can also fetch the core, which is never used: 0.5 kB.
  const start = `
/** Starts the core that a module holds. */
export async function start(module) {
  __wbg_finalize_init(await WebAssembly.instantiate(module, __wbg_get_imports()), module);
}
`;
  writeFileSync(`${folder}/glue.js`, glue + start);
  return wasm;
}

// Plain wasm as a text costs a third after gzip; deflated next to nothing. What is sorted has many
// stretches, each of which gains by a table of its own: as many blocks as zopfli chooses.
// A test that wants no small files lets it try less.
const TRIES = Number(process.env.PLYLINE_ZOPFLI ?? 100);
const { deflateAsync } = createRequire(`${process.env.PLYLINE_TOOLS}/npm/`)("@gfx/zopfli");
async function deflated(folder, bytes, numiterations) {
  const packed = await deflateAsync(bytes, { numiterations, blocksplittingmax: 0 });
  writeFileSync(`${folder}/deflated.js`, `export default "${written(packed)}";\n`);
}
const [counts, answers] = [`${work}/counts`, `${work}/answers`];
await deflated(work, await sorted(glued(work), readFileSync(`${work}/unsort.wasm`)), TRIES);
// Small, and loaded by few pages: unsorted.
for (const apart of [counts, answers]) await deflated(apart, glued(apart), Math.min(TRIES, 15));

// The style sheets: for baked pages the same as in the script, within shadow roots alone.
for (const [part, name] of [["lesson", "plyline"], ["more", "plyline-more"], ["counts", "plyline-counts"], ["answers", "plyline-answers"], ["talk", "plyline-talk"]]) {
  const file = `${work}/${name}.css`;
  execFileSync("esbuild", [`www/css/${part}.css`, "--bundle", "--minify", `--outfile=${file}`, "--log-level=warning"]);
  writeFileSync(`${dist}/${name}.css`, `${within(readFileSync(file, "utf8").trim())}\n`);
}
const bundle = (from, to, core, shared, beside, ...how) => {
  const meta = `${work}/${to}.json`;
  execFileSync("esbuild", [
    from,
    "--bundle",
    "--minify",
    "--legal-comments=none",
    // Names in what wasm-bindgen writes alone, a hundred times there.
    "--mangle-props=^__(wbg_(inst|ptr)|destroy_into_raw|wrap)$",
    "--target=es2022",
    "--loader:.css=text",
    `--alias:plyline-glue=./${core}/glue.js`,
    `--alias:plyline-core-deflated=./${core}/deflated.js`,
    `--alias:plyline-style=./${work}/plyline.css`,
    `--alias:plyline-style-more=./${work}/plyline-more.css`,
    `--alias:plyline-style-counts=./${work}/plyline-counts.css`,
    `--alias:plyline-style-answers=./${work}/plyline-answers.css`,
    `--alias:plyline-style-talk=./${work}/plyline-talk.css`,
    `--alias:plyline-shared=${shared}`,
    `--alias:plyline-beside=./www/page/apart/${beside}.js`,
    `--define:PLYLINE_VERSION="${version}"`,
    "--banner:js=/* plyline, GPL-3.0-or-later; see LICENSE beside this file. */",
    `--outfile=${dist}/${to}`,
    `--metafile=${meta}`,
    "--log-level=warning",
    ...how,
  ]);
  return Object.keys(JSON.parse(readFileSync(meta, "utf8")).inputs);
};
const shared = "./www/page/shared.js";
// Code that would find the core by the script's own address is removed; a classic script has none.
bundle("www/page/forms/whole.js", "plyline.js", work, shared, "beside", "--format=iife", "--define:import.meta.url=document.baseURI");
const modules = ["./plyline-core.mjs", "./plyline-packed.mjs", "./plyline-more.mjs", "./plyline-counts.mjs", "./plyline-answers.mjs", "./plyline-talk.mjs"];
const apart = ["named", "--format=esm", ...modules.map((name) => `--external:${name}`)];
const from = (name) => `--alias:plyline-compiled=./www/page/forms/${name}.js`;
bundle("www/page/forms/entry.js", "plyline.mjs", work, shared, ...apart, from("streamed"));
bundle("www/page/forms/entry.js", "plyline-import.mjs", work, shared, ...apart, from("inside"));
bundle("www/page/forms/packed.js", "plyline-packed.mjs", work, shared, ...apart);
// As it is: servers compress it, and a browser compiles it while it comes.
copyFileSync(`${work}/core.wasm`, `${dist}/plyline-core.wasm`);
const inCore = bundle("www/page/forms/core.js", "plyline-core.mjs", work, shared, ...apart);
// What is shared is imported from the core's module. A page that had a file of ours twice would have
// its state twice.
const inMore = bundle("www/page/more.js", "plyline-more.mjs", work, modules[0], ...apart);
bundle("www/page/apart/counts/counts.js", "plyline-counts.mjs", counts, modules[0], ...apart);
bundle("www/page/apart/answers/answers.js", "plyline-answers.mjs", answers, modules[0], ...apart);
bundle("www/page/apart/talk/talk.js", "plyline-talk.mjs", work, modules[0], ...apart);
const twice = inMore.filter((file) => inCore.includes(file));
if (twice.length) throw new Error(`${twice.join(", ")}: in plyline-core.mjs and plyline-more.mjs; see www/page/shared.js`);

const about = JSON.parse(readFileSync("www/package.json", "utf8"));
writeFileSync(`${dist}/package.json`, `${JSON.stringify({ ...about, version }, null, 2)}\n`);
describe(".", dist);

// Bounds: design, "Numbers to hold": all of it in one language; gzip -9, in bytes. `three` is what a page
// with one lesson loads as modules: the entry, the script of lessons and the core; it was 150 kB with the core packed in
// the script, which took twice as long on a slow processor (www/pack/README.md). `baked` is what a page with baked lessons loads until
// a reader touches one: the entry and the style sheet.
const BOUND = { whole: 160_000, three: 205_000, entry: 5_000, baked: 7_000 };
const row = (...cells) => console.log(cells.map((cell, at) => (at ? String(cell).padStart(11) : cell.padEnd(28))).join(""));
row("file", "raw", "gzip -9", "brotli");
const sizes = (name) => {
  const bytes = readFileSync(`${dist}/${name}`);
  const gzip = gzipSync(bytes, { level: 9 }).length;
  row(name, bytes.length, gzip, brotliCompressSync(bytes).length);
  return gzip;
};
const whole = sizes("plyline.js");
const entry = sizes("plyline.mjs");
const three = entry + sizes("plyline-core.mjs") + sizes("plyline-core.wasm");
sizes("plyline-import.mjs");
sizes("plyline-packed.mjs");
const all = three + sizes("plyline-more.mjs");
sizes("plyline-counts.mjs");
sizes("plyline-answers.mjs");
sizes("plyline-talk.mjs");
const baked = entry + sizes("plyline.css");
sizes("plyline-more.css");
sizes("plyline-counts.css");
const held = (name, size, bound) => console.log(`${name}: ${size} of ${bound} bytes, ${size <= bound ? "within" : "OVER"} the bound`);
held("plyline.mjs, the entry", entry, BOUND.entry);
held("a page of baked lessons, the entry and plyline.css", baked, BOUND.baked);
held("the three-file form", three, BOUND.three);
console.log(`the three-file form with every element: ${all} bytes`);
held("plyline.js", whole, BOUND.whole);

// What a site writes beside the tag, and sends with the page.
const hashed = (name) => createHash("sha384").update(readFileSync(`${dist}/${name}`)).digest("base64");
for (const name of ["plyline.js", "plyline.mjs", "plyline.css"]) console.log(`${name}: integrity="sha384-${hashed(name)}"`);
console.log("Content-Security-Policy: default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; require-trusted-types-for 'script'");
