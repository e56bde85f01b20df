// How long a reader waits for a small lesson, in Chromium: the one file, the modules, and the modules with the core asked for
// ahead; on a processor slowed six times and as it is, from this machine and over two networks. `node tests/bench/load.mjs
// [--rounds N] [CASE...]` with cases as they are printed, such as 6/1.6/br. Needs a built www/dist, or the folder that
// PLYLINE_DIST names. PLYLINE_AGAINST names another, an older build for one, that is measured in turn with it.
// A bound that is missed ends it with exit code 1.

import { readFileSync } from "node:fs";
import { createServer } from "node:http";
import { dirname, extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { brotliCompressSync, gzipSync } from "node:zlib";
import { openBrowser } from "../ways/browser.mjs";
import { note, spread, table } from "./table.mjs";

const root = join(dirname(fileURLToPath(import.meta.url)), "../..");
const DIST = process.env.PLYLINE_DIST ?? join(root, "www/dist");
const AGAINST = process.env.PLYLINE_AGAINST;
const words = process.argv.slice(2);
const counted = words.indexOf("--rounds");
const ROUNDS = counted < 0 ? 9 : Number(words.splice(counted, 2)[1]);

/** Milliseconds from the start of the script until the lesson is drawn, slowed six times, and which part of it unpacking may take. */
const BOUND = { drawn: 1000, unpacking: 0.15 };
/** Milliseconds of latency, and megabits a second. */
const NETWORKS = { local: null, 10: { latency: 40, rate: 10 }, 1.6: { latency: 150, rate: 1.6 } };
const CASES = [6, 1].flatMap((slow) => ["local/gzip", "10/gzip", "10/br", "10/identity", "1.6/gzip", "1.6/br", "1.6/identity"].map((how) => `${slow}/${how}`));

const ONE = '<script defer src="plyline.js"></script>';
const MODULES = '<script type="module" src="plyline.mjs"></script>';
const AHEAD = `<link rel="modulepreload" href="plyline-core.mjs">
<link rel="preload" as="fetch" type="application/wasm" href="plyline-core.wasm">`;
const FORMS = {
  "one file": { folder: DIST, head: ONE },
  modules: { folder: DIST, head: MODULES },
  ahead: { folder: DIST, head: `${AHEAD}\n${MODULES}` },
  import: { folder: DIST, head: MODULES.replace("plyline.mjs", "plyline-import.mjs") },
  ...(AGAINST && {
    "other one file": { folder: AGAINST, head: ONE },
    "other modules": { folder: AGAINST, head: MODULES },
    "other ahead": { folder: AGAINST, head: `${AHEAD.split("\n")[0]}\n${MODULES}` },
  }),
};
const LESSON = `<ply-line id="vienna"><pre>
1. e4 e5 2. Nc3 {keeps the way of the f-pawn free.} Nf6
  (2... Nc6 3. f4 {offers the pawn.}) 3. f4 d5 $11 *
</pre></ply-line>`;

/** Marks the end of each part from outside: by the calls that the script makes there. */
const WATCH = `<script>
  globalThis.at = {};
  globalThis.mark = (name) => (at[name] ??= performance.now());
  const before = (owner, name, heed) => {
    const real = owner[name];
    owner[name] = function (...given) {
      heed(...given);
      return real.apply(this, given);
    };
  };
  before(TextEncoder.prototype, "encode", (text) => text?.length > 1e5 && mark("packed"));
  for (const name of ["compile", "compileStreaming"]) before(WebAssembly, name, () => mark("compiling"));
  globalThis.drawn = new Promise((done) => {
    const look = () => {
      if (!(document.querySelector("ply-line")?.made > 0)) return requestAnimationFrame(look);
      mark("drawn");
      done(at);
    };
    look();
  });
</script>`;

// --- the server ---

const TYPES = { ".js": "text/javascript", ".mjs": "text/javascript", ".css": "text/css", ".wasm": "application/wasm" };
const ENCODE = { gzip: (bytes) => gzipSync(bytes, { level: 6 }), br: (bytes) => brotliCompressSync(bytes), identity: (bytes) => bytes };
const kept = new Map();
let encoding = "gzip";

/** A file as it is sent: compressed once. The script that a page names says when it begins. */
function bytesOf(file) {
  const key = `${encoding} ${file}`;
  if (!kept.has(key)) {
    const begins = /plyline(-import)?\.m?js$/.test(file) ? "globalThis.mark?.('script');" : "";
    kept.set(key, ENCODE[encoding](Buffer.concat([Buffer.from(begins), readFileSync(file)])));
  }
  return kept.get(key);
}
const names = Object.keys(FORMS);
const server = createServer(({ url }, answer) => {
  const [, at, name] = url.split("/");
  const form = FORMS[names[at]];
  const send = (type, bytes) =>
    answer.writeHead(200, { "content-type": type, "cache-control": "no-store", ...(encoding !== "identity" && { "content-encoding": encoding }) }).end(bytes);
  if (form && !name) {
    const page = `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>A lesson</title>${WATCH}${form.head}</head><body><main>${LESSON}</main></body></html>`;
    return send("text/html; charset=utf-8", ENCODE[encoding](Buffer.from(page)));
  }
  try {
    send(TYPES[extname(name)], bytesOf(join(form.folder, name)));
  } catch {
    answer.writeHead(404).end();
  }
});
await new Promise((done) => server.listen(0, "127.0.0.1", done));

// --- the measuring ---

const browser = await openBrowser(root);
const slowed = async (rate, network) => {
  const bytes = network ? (network.rate * 1e6) / 8 : -1;
  await browser.cdp("Network.emulateNetworkConditions", { offline: false, latency: network?.latency ?? 0, downloadThroughput: bytes, uploadThroughput: bytes });
  await browser.cdp("Emulation.setCPUThrottlingRate", { rate });
};

/** Loads each form in turn, another one first in each round. The first round warms the browser up. */
async function measured(name) {
  const [slow, network, how] = name.split("/");
  encoding = how;
  const visits = names.map(() => []);
  for (let round = 0; round <= ROUNDS; round += 1) {
    for (let step = 0; step < names.length; step += 1) {
      const at = (step + round) % names.length;
      await slowed(1, null);
      await browser.open("about:blank");
      await slowed(Number(slow), NETWORKS[network]);
      await browser.open(`http://127.0.0.1:${server.address().port}/${at}/`);
      const marks = await browser.js("return await drawn");
      if (round) visits[at].push(marks);
    }
  }
  return visits;
}

const rows = [];
let held = true;
try {
  await browser.cdp("Network.enable");
  for (const name of CASES.filter((name) => !words.length || words.includes(name))) {
    const visits = await measured(name);
    const medians = visits.map((list) => spread(list.map(({ drawn }) => drawn)).median);
    for (const [at, list] of visits.entries()) {
      const own = spread(list.map(({ drawn, script }) => drawn - script));
      const unpacking = spread(list.map(({ packed, compiling }) => (packed ? compiling - packed : 0)));
      const ratio = medians[at] / Math.min(...medians);
      let verdict = "";
      if (names[at] === "ahead") {
        // What a slow processor does alone is bound; how fast a network is the machine decides, so there the forms are compared.
        // A tenth is within what the same page differs by from run to run.
        const good = ratio <= 1.1 && (name !== "6/local/gzip" || (own.median <= BOUND.drawn && unpacking.median <= BOUND.unpacking * own.median));
        if (name.startsWith("6") && !name.endsWith("identity")) {
          held &&= good;
          note(`first load, ${name}, modules asked for ahead, time against the fastest form`, `${ratio.toFixed(2)} times`, "", "1.1", ratio <= 1.1);
          if (name === "6/local/gzip") {
            note("first load, slowed 6 times, from the script's start until drawn", `${own.median.toFixed(0)} ms`, `${own.low.toFixed(0)}-${own.high.toFixed(0)}`, `${BOUND.drawn} ms`, own.median <= BOUND.drawn);
            note("first load, slowed 6 times, unpacking", `${((100 * unpacking.median) / own.median).toFixed(0)} %`, "", `${BOUND.unpacking * 100} %`, unpacking.median <= BOUND.unpacking * own.median);
          }
          verdict = good ? "held" : "MISSED";
        }
      }
      rows.push([name, names[at], spread(list.map(({ drawn }) => drawn)).text, ratio.toFixed(2), own.text, unpacking.text, verdict]);
    }
  }
} finally {
  await browser.close();
  server.close();
}
console.log(`First load, ms: median, middle half in brackets, ${ROUNDS} rounds in turn. Bound: modules asked for ahead are drawn ${BOUND.drawn} ms after the script`);
console.log(`begins on a processor slowed six times, unpacking ${BOUND.unpacking * 100} % of it, and on no network slower than another form.`);
console.log(table([["slowed/network/sent", "form", "until drawn", "ratio", "from the script's start", "unpacking", ""], ...rows]));
process.exitCode = held ? 0 : 1;
process.exit();
