// Every way in: packs www/dist as npm does, installs it into copies of the examples, builds each and opens it in Chromium;
// has the package, its types and its manifest read by tools from outside: `node tests/ways.mjs`, or with words, the tests
// whose names have one. Needs a built www/dist (or the folder that PLYLINE_DIST names); `sh tests/run.sh ways` installs the
// tools. A way whose generator is not installed is skipped, and said so; with `--long` it fails, Vite's own server is
// opened too, and the files are bundled twice.

import { execFileSync, spawn, spawnSync } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { homedir, tmpdir } from "node:os";
import { delimiter, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { openBrowser, serve } from "./ways/browser.mjs";
import { bundledTwice, described, typed } from "./ways/outside.mjs";
import { inBrowser, inNode, inWorkers } from "./ways/reading.mjs";

const ROOT = join(dirname(fileURLToPath(import.meta.url)), "..");
const DIST = process.env.PLYLINE_DIST ?? join(ROOT, "www/dist");
const LONG = process.argv.includes("--long");
const WORDS = process.argv.slice(2).filter((word) => word !== "--long");
const TOOLS = process.env.PLYLINE_TOOLS ?? join(process.env.XDG_CACHE_HOME ?? join(homedir(), ".cache"), "plyline");
const BIN = join(TOOLS, "npm/node_modules/.bin");
process.env.PLYLINE_TOOLS = TOOLS;
process.env.PATH = [join(TOOLS, "bin"), BIN, process.env.PATH].join(delimiter);

/** The line that the build prints. The pages below are served under it, but where their own tools need more. */
const POLICY = /Content-Security-Policy: ([^"]*)"/.exec(readFileSync(join(ROOT, "www/pack/bundle.mjs"), "utf8"))[1];

let [passed, failed, skipped] = [0, 0, 0];
let since = Date.now();
function report(name, wrong) {
  if (wrong.length) failed += 1;
  else passed += 1;
  console.log(`${wrong.length ? "FAILED" : "ok"} ${name} (${((Date.now() - since) / 1000).toFixed(1)} s)${wrong.map((it) => `\n    ${it}`).join("")}`);
  since = Date.now();
}
function skip(name, why) {
  skipped += 1;
  console.log(`skipped ${name}: ${why}`);
}
async function test(name, check) {
  if (WORDS.length && !name.startsWith("npm packs") && !WORDS.some((word) => name.includes(word))) return;
  report(name, await Promise.resolve().then(check).catch((error) => [error.message.slice(0, 3000)]));
}

const TMP = mkdtempSync(join(tmpdir(), "plyline-ways-"));
process.on("exit", () => rmSync(TMP, { recursive: true, force: true }));
const WORK = join(TMP, "examples");
const TARBALL = join(TMP, "plyline.tgz");
const run = (folder, ...words) => execFileSync(words[0], words.slice(1), { cwd: folder, encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] });
const has = (tool) => spawnSync("sh", ["-c", `command -v ${tool}`]).status === 0;
const packed = (folder) => (mkdirSync(folder, { recursive: true }), run(TMP, "tar", "xf", TARBALL, "-C", folder, "--strip-components=1"));

// --- the archive ---

await test("npm packs every file of www/dist, and nothing else", () => {
  const [{ filename, files }] = JSON.parse(run(TMP, "npm", "pack", DIST, "--json"));
  run(TMP, "mv", filename, TARBALL);
  const inside = files.map(({ path }) => path).sort();
  const built = readdirSync(DIST, { recursive: true, withFileTypes: true }).filter((it) => it.isFile());
  const wanted = built.map((it) => join(it.parentPath ?? it.path, it.name).slice(DIST.length + 1)).sort();
  return [...wanted.filter((it) => !inside.includes(it)), ...inside.filter((it) => !wanted.includes(it))];
});
// The pages of the examples name ../../www/dist, as they lie in the repository.
packed(join(TMP, "www/dist"));
cpSync(join(ROOT, "examples"), WORK, { recursive: true, filter: (path) => !/node_modules|_site/.test(path) });

await test("publint has nothing to say", () => {
  const said = spawnSync("publint", [TARBALL, "--strict"], { encoding: "utf8" });
  return said.status === 0 && said.stdout.includes("All good!") ? [] : [said.stdout + said.stderr];
});
await test("attw finds no wrong types", () => {
  const said = spawnSync("attw", [TARBALL, "--profile", "esm-only", "--exclude-entrypoints", "./plyline.css", "--format", "json"], { encoding: "utf8" });
  const { analysis, problems } = JSON.parse(said.stdout);
  const entries = Object.keys(analysis.entrypoints);
  const counted = Object.values(problems ?? {}).flat().filter(({ resolutionKind }) => !["node10", "node16-cjs"].includes(resolutionKind));
  return [
    ...(said.status ? [`ended with ${said.status}`] : []),
    ...counted.map((it) => JSON.stringify(it)),
    ...[".", "./jsx", "./plyline.js", "./words/*"].filter((it) => !entries.includes(it)).map((it) => `${it} was not looked at`),
  ];
});
await typed({ root: ROOT, folder: join(TMP, "types"), packed, test });
await described({ root: ROOT, dist: DIST, tools: TOOLS, policy: POLICY, test });
if (LONG && existsSync(join(ROOT, "target/page/core.wasm"))) await test("bundling twice in two folders gives the same files, and prints their hashes", () => bundledTwice(ROOT, TMP, POLICY));
else skip("bundling twice", LONG ? "nothing was compiled here" : "it takes a minute, so only with --long");

// --- without a page ---

await test("import needs no page, and lessons are read in Node", () => inNode(join(WORK, "node"), install));

// --- the examples in a browser ---

function install(name) {
  const folder = join(WORK, name);
  cpSync(TARBALL, join(folder, "plyline.tgz"));
  run(folder, "npm", "install", "--silent", "--no-audit", "--no-fund", "--prefer-offline");
  return folder;
}

const browser = await openBrowser(ROOT);

/** Opens a page: every lesson on it is drawn, with a board and a list of lines, and nothing is logged. */
async function drawn(url, { frame, also, patience } = {}) {
  const wrong = [];
  await browser.open(url);
  if (frame) await browser.enterFrame();
  const isDrawn = `document.querySelector("ply-line") && [...document.querySelectorAll("ply-line")].every(({ shadowRoot: it, current }) =>
    current && it?.querySelectorAll("[part=figure] [data-square]").length === 64 && it.querySelectorAll("[part=lines] .move").length > 4)`;
  if (!(await browser.until(isDrawn, patience))) wrong.push(`not drawn: ${await browser.js("return document.body.innerHTML.slice(0, 600)")}`);
  const found = await browser.js('return [...document.querySelectorAll("ply-line")].flatMap((it) => (it.findings ?? []).map(({ message }) => message))');
  if (also && !(await browser.until(also))) wrong.push(`never so: ${also}`);
  return [...wrong, ...found, ...(await browser.logged())];
}
const served = async (folder, path, policy, how) => {
  const { address, close } = await serve(folder, policy);
  const wrong = await drawn(address + path, how);
  close();
  return wrong;
};

/** What few lessons have is put into a page: figures that its author quotes, for which there is a file beside the script. */
function quoting(name, ...others) {
  const change = (path, from, to) => {
    const text = readFileSync(join(WORK, name, path), "utf8");
    if (!text.includes(from)) throw new Error(`${path} has no ${from}`);
    writeFileSync(join(WORK, name, path), text.replace(from, to));
  };
  change("site/index.html", ".}", ".\n\nCounts: 812 games, 38 40 22, from the club's own games}");
  for (const it of others) change(...it);
}
/** What bundlers must find then: that file, with the one core that there is. */
const counted = `(() => { const all = performance.getEntriesByType("resource").map(({ name }) => name).filter((name) => /plyline-(counts|core)/.test(name));
  return all.filter((name) => name.includes("counts")).length === 1 && all.filter((name) => name.includes("core")).length <= 1; })()`;
const french = `document.querySelector("ply-line").shadowRoot.querySelector("[data-do=next]").textContent === plylineWords.fr.next`;
const react = `[document.querySelector("ply-line").next(), document.querySelector("output").textContent === "e4"].at(-1)`;

const WAYS = {
  disk: () => drawn(`file://${join(WORK, "disk/index.html")}`),
  server: () => served(TMP, "/examples/server/index.html", POLICY),
  iframe: () => served(TMP, "/examples/iframe/post.html", undefined, { frame: true }),
  typescript() {
    run(install("typescript"), "npm", "run", "--silent", "build");
    return served(join(WORK, "typescript"), "/site/index.html", undefined, { also: 'document.querySelector("output").textContent === "Bf5, moved by the script"' });
  },
  esbuild() {
    quoting("esbuild", ["main.js", 'import "plyline', 'import "plyline/words/fr.js";\nimport "plyline'], ["site/index.html", 'lang="en"', 'lang="fr"']);
    run(install("esbuild"), "npm", "run", "--silent", "build");
    return served(join(WORK, "esbuild/site"), "/", POLICY, { also: `${counted} && ${french}` });
  },
  async react() {
    run(install("react"), "npm", "run", "--silent", "build");
    const made = join(WORK, "react/rendered.mjs");
    run(join(WORK, "react"), "esbuild", "post.tsx", "--bundle", "--packages=external", "--platform=node", "--format=esm", "--jsx=automatic", "--outfile=post.mjs");
    writeFileSync(made, 'import { createElement } from "react"; import { renderToString } from "react-dom/server"; import { Post } from "./post.mjs"; console.log(renderToString(createElement(Post)));');
    const text = run(join(WORK, "react"), "node", made);
    const post = readFileSync(join(WORK, "react/post.tsx"), "utf8");
    writeFileSync(join(WORK, "react/post.tsx"), post.replace('side="black"', 'side="up"').replace("detail.san", "detail.sans"));
    const told = spawnSync("node_modules/.bin/tsc", ["--noEmit"], { cwd: join(WORK, "react"), encoding: "utf8" }).stdout;
    const typed = told.includes("'\"up\"'") && told.includes("'sans'") ? [] : [`an attribute and an event that do not exist: ${told}`];
    const rendered = text.includes('<ply-line id="petroff" side="black"><pre>1. e4 e5') ? [] : [`rendered without a page: ${text}`];
    return [...typed, ...rendered, ...(await served(join(WORK, "react/site"), "/", POLICY, { also: react }))];
  },
  async vite() {
    quoting("vite");
    run(install("vite"), "npm", "run", "--silent", "build");
    const quiz = 'document.querySelector("ply-quiz").state === "open"';
    const moved = '[document.querySelector("ply-line").go("3.Nf3"), document.querySelector("output").textContent === "after d4 d5 c4 c6 Nf3"].at(-1)';
    return served(join(WORK, "vite/site/dist"), "/", POLICY, { also: `${counted} && ${quiz} && ${moved}` });
  },
  async eleventy() {
    run(join(WORK, "eleventy"), "eleventy", "--quiet");
    packed(join(WORK, "eleventy/_site/plyline")); // as `plyline assets` does
    return served(join(WORK, "eleventy/_site"), "/", POLICY, { also: 'document.querySelectorAll("ply-ref").length > 3' });
  },
  async hugo() {
    packed(join(WORK, "hugo/static/plyline"));
    run(join(WORK, "hugo"), "hugo", "--quiet");
    return served(join(WORK, "hugo/public"), "/", POLICY, { also: 'document.querySelectorAll("ply-ref").length > 0' });
  },
  async jekyll() {
    cpSync(join(DIST, "plyline.js"), join(WORK, "jekyll/plyline.js"));
    run(join(WORK, "jekyll"), "jekyll", "build", "--quiet", "--disable-disk-cache");
    return served(join(WORK, "jekyll/_site"), "/", POLICY, { also: 'document.querySelector("ply-diagram").shadowRoot?.querySelector("svg")' });
  },
  async mdbook() {
    cpSync(join(DIST, "plyline.js"), join(WORK, "mdbook/plyline.js"));
    run(join(WORK, "mdbook"), "mdbook", "build");
    return served(join(WORK, "mdbook/book"), "/lesson.html");
  },
};
// Not npm packages that an example installs; `--long` installs them (tests/run.sh), so there they have to be.
const NEEDS = { eleventy: "eleventy", hugo: "hugo", jekyll: "jekyll", mdbook: "mdbook" };

/** The three ways of README's "Five minutes", as they are written there. */
async function readme() {
  const text = readFileSync(join(ROOT, "README.md"), "utf8").split("## Five minutes")[1].split("\n## ")[0];
  const [html, frame] = [...text.matchAll(/^```html\n(.*?)^```$/gms)].map(([, it]) => it);
  const [, fence] = /^````markdown\n(.*?)^````$/ms.exec(text);
  const folder = join(TMP, "readme");
  packed(folder);
  const write = (name, body) => writeFileSync(join(folder, name), `<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>Five minutes</title></head><body>\n${body}</body></html>\n`);
  write("index.html", html);
  write("lesson.html", html);
  writeFileSync(join(folder, "post.md"), fence);
  const [script] = html.split("\n");
  write("post.html", `${script}\n${run(folder, "commonmark", "--safe", "post.md")}`);
  const { address, close } = await serve(folder);
  write("frame.html", frame.replaceAll("https://your-site.example/lesson.svg", "data:,").replaceAll("https://your-site.example", address));
  const [own, post, framed] = [await drawn(`${address}/`), await drawn(`${address}/post.html`), await drawn(`${address}/frame.html`, { frame: true })];
  close();
  return [...own, ...post, ...framed];
}

/** A page is found that is not drawn, and one that logs something. */
async function spoiled() {
  const page = readFileSync(join(WORK, "disk/index.html"), "utf8");
  const open = (text) => (writeFileSync(join(WORK, "disk/spoiled.html"), text), drawn(`file://${join(WORK, "disk/spoiled.html")}`, { patience: 10 }));
  const undrawn = await open(page.replace(/<script.*<\/script>/, ""));
  const logs = await open(page.replace("</main>", "<script>console.info('hm')</script></main>"));
  const slips = await open(page.replace("4. fxe5", "4. fxe4"));
  return [undrawn, logs, slips].flatMap((wrong, at) => (wrong.length ? [] : [`nothing was said of page ${at}`]));
}

/** Vite's server, which bundles packages before it is asked. */
async function viteServer() {
  install("vite");
  const server = spawn("node_modules/.bin/vite", ["--host", "127.0.0.1"], { cwd: join(WORK, "vite"), stdio: ["ignore", "pipe", "ignore"], env: { ...process.env, NO_COLOR: "1" } });
  try {
    const address = await new Promise((done, lost) => {
      let said = "";
      server.stdout.on("data", (text) => {
        const found = /http:\/\/127\.0\.0\.1:\d+\//.exec((said += text));
        if (found) done(found[0]);
      });
      server.on("exit", () => lost(new Error("vite has ended")));
    });
    await browser.open(address);
    await new Promise((done) => setTimeout(done, 5000)); // it finds what the page imports, and loads the page again
    return (await drawn(address, { also: counted })).filter((it) => !/\[vite\] connect/.test(it));
  } finally {
    server.kill();
  }
}

try {
  await test("members, attributes and parts are those of the manifest", () => inBrowser(browser, TMP, DIST));
  await test("lessons are read in workers", () => inWorkers(browser, TMP));
  for (const [name, way] of Object.entries(WAYS)) {
    if (NEEDS[name] && !has(NEEDS[name]) && !LONG) skip(`examples/${name}`, `${NEEDS[name]} is not installed`);
    else await test(`examples/${name} is built and drawn`, way);
  }
  await test("the three ways of README are drawn", readme);
  await test("a page that is not drawn, logs something or has a finding is found", spoiled);
  if (LONG) await test("examples/vite is drawn from Vite's own server", viteServer);
  else skip("examples/vite from Vite's own server", "only with --long");
  const without = readdirSync(join(ROOT, "examples")).filter((name) => existsSync(join(ROOT, "examples", name, "README.md")) && !WAYS[name] && name !== "node");
  report("every example that has a page of words is opened here", without);
} finally {
  await browser.close();
}
console.log(`ways: ${passed} passed, ${failed} failed${skipped ? `, ${skipped} skipped` : ""}`);
process.exitCode = failed ? 1 : 0;
process.exit();
