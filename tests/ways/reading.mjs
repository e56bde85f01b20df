// What tests/ways.mjs asks of the package where there is no page, in workers, and of the elements in a browser.

import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { serve } from "./browser.mjs";

/** A text with a variation, a comment and a slip, and what is asked of its lesson: the same everywhere. */
const TEXT = "1. e4 e5 2. Nf3 (2. f4 {gives a pawn}) Nc6 3. Bb5 a6 4. Bxc6 dxc6 5. Nxe5 Qd4 6. Nf4 *";
const ASK = `async ({ readLesson }) => {
  const { lesson, findings } = await readLesson(${JSON.stringify(TEXT)});
  const said = [lesson.find("line A"), lesson.node(3).san, lesson.outline().length, lesson.toPgn(), findings.map(({ code, from }) => code + from)];
  lesson.free();
  return JSON.stringify(said);
}`;

const LOOKED = ["document", "window", "HTMLElement", "customElements", "self"];

/** Imports the module and the script in Node, also in a worker thread, and runs the example. */
export function inNode(folder, install) {
  install("node");
  const node = (name, text) => {
    writeFileSync(join(folder, name), text);
    return execFileSync("node", [name], { cwd: folder, encoding: "utf8", stdio: "pipe" }).trim();
  };
  const wrong = [];
  const module = node("main.mjs", `import * as plyline from "plyline"; await plyline.ready().then(() => plyline.define()); console.log(await (${ASK})(plyline));`);
  const classic = node("classic.mjs", `import "plyline/words/de.js"; import "plyline/plyline.js"; import "plyline/jsx"; console.log(await (${ASK})(globalThis.plyline));`);
  writeFileSync(join(folder, "thread.mjs"), `import { parentPort } from "node:worker_threads"; import * as plyline from "plyline"; parentPort.postMessage(await (${ASK})(plyline));`);
  const thread = node("threads.mjs", 'import { Worker } from "node:worker_threads"; new Worker("./thread.mjs").on("message", (it) => console.log(it));');
  const globals = node("globals.mjs", `import "plyline"; console.log(${JSON.stringify(LOOKED)}.filter((name) => name in globalThis).join());`);
  if (!module.includes('"Nf3"') || !module.includes("P012")) wrong.push(`read: ${module}`);
  if (classic !== module) wrong.push(`plyline.js: ${classic}`);
  if (thread !== module) wrong.push(`in a worker thread: ${thread}`);
  if (globals) wrong.push(`a page was made up: ${globals}`);
  const example = execFileSync("npm", ["run", "--silent", "build"], { cwd: folder, encoding: "utf8", stdio: "pipe" });
  if (!/^Two answers \(plyline [\d.]+\)\nc4 e5 Nc3 Nf6 Nf3 Nc6 g3 d5\n {2}A Bb4 Nd5 a5\n$/.test(example)) wrong.push(`examples/node: ${example}`);
  return wrong;
}

/** Reads in a worker of each kind, a module and a classic one, as in the page. */
export async function inWorkers(browser, folder) {
  writeFileSync(join(folder, "classic.js"), `importScripts("www/dist/plyline.js"); (${ASK})(plyline).then(postMessage);`);
  writeFileSync(join(folder, "module.js"), `import * as plyline from "./www/dist/plyline.mjs"; (${ASK})(plyline).then(postMessage);`);
  writeFileSync(join(folder, "workers.html"), '<!doctype html><title>Workers</title><script type="module" src="page.js"></script>');
  writeFileSync(join(folder, "page.js"), `import * as plyline from "./www/dist/plyline.mjs"; globalThis.page = await (${ASK})(plyline);`);
  const { address, close } = await serve(folder, "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'");
  await browser.open(`${address}/workers.html`);
  await browser.until("globalThis.page");
  const read = (name, type) =>
    browser.js(`const worker = new Worker(given[0], { type: given[1] });
      return Promise.race([new Promise((done) => { worker.onmessage = ({ data }) => done(data); worker.onerror = ({ message }) => done(message || "cannot be loaded"); }),
        new Promise((done) => setTimeout(done, 10000, "no answer"))]);`, name, type);
  const page = await browser.js("return page");
  const [classic, module] = [await read("classic.js", "classic"), await read("module.js", "module")];
  close();
  return [
    ...(page.includes('"Nf3"') ? [] : [`the page: ${page}`]),
    ...(classic === page ? [] : [`importScripts: ${classic}`]),
    ...(module === page ? [] : [`a module: ${module}`]),
    ...(await browser.logged()),
  ];
}

const ALL = `<!doctype html><html lang="en"><meta charset="utf-8"><title>All</title><script type="module" src="www/dist/plyline.mjs"></script>
<body><ply-prose for="a"><p>After 3.Bb5 all is open, <ply-ref for="a" at="2.f4">the pawn</ply-ref> too.</p></ply-prose>
<ply-line id="a"><pre>1. e4 e5 2. Nf3 (2. f4 {gives a pawn} exf4 $13) 2... Nc6 3. Bb5 {In short: the bishop comes out.} a6 $11 *</pre></ply-line>
<ply-diagram for="a" at="3.Bb5"></ply-diagram><ply-recap for="a" side="white"></ply-recap>
<ply-quiz for="a" at="1.e4 e5"><p>White to move.</p></ply-quiz><ply-recall for="a" side="white"></ply-recall></body></html>`;

/** What each element has in the browser against the manifest, both ways. */
export async function inBrowser(browser, folder, dist) {
  writeFileSync(join(folder, "all.html"), ALL);
  const { address, close } = await serve(folder);
  await browser.open(`${address}/all.html`);
  await browser.js('const { ready } = await import("/www/dist/plyline.mjs"); await ready(); await customElements.whenDefined("ply-prose")');
  await browser.until('[...document.querySelectorAll("ply-line, ply-quiz, ply-recall, ply-diagram, ply-recap")].every(({ shadowRoot }) => shadowRoot?.querySelector("[part]"))');
  await browser.js('document.querySelector("ply-quiz").show()');
  const found = await browser.js(`return Object.fromEntries(["ply-line", "ply-diagram", "ply-recap", "ply-ref", "ply-prose", "ply-quiz", "ply-recall"].map((tag) => {
    const element = document.querySelector(tag);
    const members = new Set();
    for (let at = Object.getPrototypeOf(element); at !== HTMLElement.prototype; at = Object.getPrototypeOf(at)) {
      for (const name of Object.getOwnPropertyNames(at)) if (!/^(constructor|.*Callback)$/.test(name)) members.add(name);
    }
    const parts = new Set([...(element.shadowRoot?.querySelectorAll("[part]") ?? [])].map((it) => it.getAttribute("part")));
    return [tag, { members: [...members], attributes: customElements.get(tag).observedAttributes, parts: [...parts] }];
  }))`);
  close();
  const { modules } = JSON.parse(readFileSync(join(dist, "custom-elements.json"), "utf8"));
  const wrong = compared(found, modules[0].declarations);
  // What is missing from the manifest, or is there in vain, is found.
  for (const list of ["members", "attributes", "cssParts"]) {
    const spoiled = structuredClone(modules[0].declarations);
    spoiled.find((it) => it[list]?.length)[list].splice(1, 1);
    if (compared(found, spoiled).length === 0) wrong.push(`one of ${list} was taken out of the manifest, and nobody missed it`);
    spoiled.findLast((it) => it[list])[list].push({ name: "other" });
    if (compared(found, spoiled).length < 2) wrong.push(`one of ${list} was put into the manifest in vain, and nobody saw it`);
  }
  return [...wrong, ...(await browser.logged())];
}

// Read with the notation, not observed; the others are read with the lesson (tests/native/view/open.rs has the same list).
const APART = ["id", "counts", "assessments", "answers", "talk"];

function compared(found, declarations) {
  const wrong = [];
  const names = (list) => (list ?? []).map(({ name }) => name);
  for (const [tag, { members, attributes, parts }] of Object.entries(found)) {
    const it = declarations.find(({ tagName }) => tagName === tag);
    if (!it) {
      wrong.push(`${tag} is not in the manifest`);
      continue;
    }
    const lists = [
      ["members", members, names(it.members)],
      ["attributes", attributes, names(it.attributes).filter((name) => !APART.includes(name))],
      ["parts", parts, names(it.cssParts)],
    ];
    for (const [what, real, written] of lists) {
      for (const name of real) if (!written.includes(name)) wrong.push(`${tag}: ${what}: ${name} is not in the manifest`);
      for (const name of written) if (!real.includes(name)) wrong.push(`${tag}: ${what}: ${name} is not in the browser`);
    }
  }
  return wrong;
}
