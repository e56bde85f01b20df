// How fast the page's core reads and validates, measured against chess.js (npm `chess.js` 1.4.0) in one run of Node and on
// the same games, and how much memory a lesson of 10,000 nodes takes.
//
//     sh www/build.sh && node tests/bench/page.mjs [FOLDER]
//
// FOLDER holds glue.js and core.wasm and is target/page unless given. The games are those of the crate `pgn-reader`
// (crates.io, 0.29.0), which is where cargo keeps it. Ratios count, not the figures. Exit code 1: a bound is missed.
import { execFileSync } from "node:child_process";
import { copyFileSync, cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { homedir, tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { note, spread } from "./table.mjs";

// Design, section 11. The core is built at opt-level "z": bytes and speed pull against each other.
const SPEED = { bound: 50, aim: 100 };
const MEMORY = { bound: 16, aim: 8 };
// A round takes chess.js about a third of a second; plyline reads the same games often enough to be timed well.
const ROUNDS = 9;
const MOVES = 2500;
const REPEAT = 10;
const NODES = 10_000;

const root = join(dirname(fileURLToPath(import.meta.url)), "../..");
const core = process.argv[2] ?? join(root, "target/page");
const wasm = readFileSync(join(core, "core.wasm"));
// The glue is a page's script, which Node would take for another kind without this file beside it.
const glue = mkdtempSync(join(tmpdir(), "plyline-glue-"));
process.on("exit", () => rmSync(glue, { recursive: true }));
writeFileSync(join(glue, "package.json"), '{ "type": "module" }');
copyFileSync(join(core, "glue.js"), join(glue, "glue.js"));
cpSync(join(core, "snippets"), join(glue, "snippets"), { recursive: true });

/** A new instance of the core. */
async function start(number) {
  const { initSync, readLesson } = await import(`${pathToFileURL(join(glue, "glue.js"))}?${number}`);
  // By its kind, because the build gives exports other names.
  const memory = Object.values(initSync({ module: wasm })).find((value) => value instanceof WebAssembly.Memory);
  return { memory, readLesson };
}

function chessjs() {
  const tools = process.env.PLYLINE_TOOLS ?? join(process.env.XDG_CACHE_HOME ?? join(homedir(), ".cache"), "plyline");
  const npm = join(tools, "npm");
  if (!existsSync(join(npm, "node_modules/chess.js"))) {
    execFileSync("npm", ["install", "--silent", "--no-audit", "--no-fund", "--prefix", npm, "chess.js@1.4.0"]);
  }
  return createRequire(join(npm, "node_modules/x.js"))("chess.js").Chess;
}

/** The two collections of about 1 MB in the archive of `pgn-reader`, each as a list of games. */
function collections() {
  const args = ["metadata", "--format-version", "1", "--quiet", "--manifest-path", join(root, "Cargo.toml")];
  const { packages } = JSON.parse(execFileSync("cargo", args, { maxBuffer: 2 ** 30 }));
  const folder = join(dirname(packages.find(({ name }) => name === "pgn-reader").manifest_path), "benches");
  const large = (name) => name.endsWith(".pgn") && statSync(join(folder, name)).size > 900_000;
  return readdirSync(folder).filter(large).sort().map((name, at) => ({
    name: `collection ${at + 1}`,
    games: readFileSync(join(folder, name), "utf8").split(/\n\n(?=\[Event )/),
  }));
}

/** Games from all over a collection, as many as one round needs. */
function sample(games) {
  const chosen = [];
  for (let at = 0, moves = 0; moves < MOVES && at < games.length; at += 7) {
    chosen.push(games[at]);
    moves += 65;
  }
  return chosen;
}

function seconds(work) {
  const began = performance.now();
  work();
  return (performance.now() - began) / 1000;
}

function verdict(reached, held) {
  if (!held) process.exitCode = 1;
  return reached ? "aim reached" : held ? "bound held" : "BOUND MISSED";
}

const Chess = chessjs();
const { readLesson } = await start(0);

for (const { name, games } of collections()) {
  const chosen = sample(games);
  let moves = 0;
  for (const game of chosen) {
    const chess = new Chess();
    chess.loadPgn(game);
    const count = chess.history().length;
    const { lesson } = readLesson(game, 1);
    if (!lesson.node(count) || lesson.node(count + 1)) throw new Error(`the two read another number of moves in ${game}`);
    lesson.free();
    moves += count;
  }
  const ours = () => {
    for (let round = 0; round < REPEAT; round += 1) for (const game of chosen) readLesson(game, 1).lesson.free();
  };
  // What a page needs to show the games: played through, and the list of their moves. `loadPgn` keeps no SAN, and finding
  // it again is more than half of the work.
  const theirs = () => {
    for (const game of chosen) {
      const chess = new Chess();
      chess.loadPgn(game);
      chess.history();
    }
  };
  const loadOnly = () => {
    for (const game of chosen) new Chess().loadPgn(game);
  };
  const times = [];
  for (let round = 0; round <= ROUNDS; round += 1) {
    times.push({ own: seconds(ours) / REPEAT, other: seconds(theirs), load: seconds(loadOnly) });
  }
  times.shift(); // the compilers warm up
  const speed = (key) => Math.round(moves / spread(times.map((time) => time[key])).median);
  const against = (key) => {
    const { low, median, high } = spread(times.map((time) => time[key] / time.own));
    return { median, low, high, text: `${median.toFixed(1)}, middle half ${low.toFixed(1)} to ${high.toFixed(1)}` };
  };
  const ratio = against("other");
  console.log(`${name}: ${chosen.length} games, ${moves} moves, ${ROUNDS} rounds`);
  console.log(`  plyline in wasm              ${speed("own")} moves/s`);
  console.log(`  chess.js, loadPgn + history  ${speed("other")} moves/s`);
  console.log(`  chess.js, loadPgn alone      ${speed("load")} moves/s`);
  console.log(
    `  plyline / chess.js: ${ratio.text}; ` +
      `bound ${SPEED.bound}, aim ${SPEED.aim}: ${verdict(ratio.median >= SPEED.aim, ratio.median >= SPEED.bound)}`,
  );
  note(`reading and validating, in wasm, speed against chess.js, ${name}`, `${ratio.median.toFixed(1)} times`, `${ratio.low.toFixed(1)}-${ratio.high.toFixed(1)}`,
    `${SPEED.bound}, aim ${SPEED.aim}`, ratio.median >= SPEED.bound);
  console.log(`  without the list of moves: ${against("load").text}`);
}

/** Real games as variations of one lesson, with a sentence after every third move of White's. */
function large(games, words) {
  const lines = games.map((game) => game.split("\n\n")[1].replace(/\s*\{[^}]*\}/g, "").replace(/\s+/g, " ").trim());
  let nodes = 0;
  let text = "";
  for (const line of lines) {
    const tokens = line.split(" ").filter((word) => !/^\d+\.\.\.$/.test(word)).slice(0, -1); // without its result
    const moves = tokens.filter((word) => !/^\d/.test(word));
    if (tokens[0] !== "1." || moves.length < 20) continue;
    if (nodes + moves.length > NODES) break;
    nodes += moves.length;
    const said = tokens.map((word, at) => (words && /^\d*[369]\.$/.test(tokens[at - 1] ?? "") ? `${word} {${words}}` : word));
    // The first game is the main line; the others are beside its first move.
    text = text === "" ? `${said[0]} ${said[1]} \u0000 ${said.slice(2).join(" ")} *` : text.replace("\u0000", `(${said.join(" ")}) \u0000`);
  }
  return { nodes, text: text.replace("\u0000", "") };
}

let instance = 1;
const { games } = collections().at(-1);
for (const words of ["", "The knight heads for @!e5 and the bishop for @!h7, as in [the main line](#1.d4)."]) {
  const { memory, readLesson } = await start(instance++);
  const before = memory.buffer.byteLength;
  const { nodes, text } = large(games, words);
  const { lesson, findings } = readLesson(text, 1);
  if (!lesson.node(nodes) || lesson.node(nodes + 1)) throw new Error("the large lesson was not read whole");
  const took = memory.buffer.byteLength / 2 ** 20;
  console.log(`a lesson of ${nodes} nodes${words && " with comments"}, ${text.length} characters, ${findings.length} findings`);
  console.log(
    `  wasm memory ${(before / 2 ** 20).toFixed(1)} MB before, ${took.toFixed(1)} MB after; ` +
      `bound ${MEMORY.bound}, aim ${MEMORY.aim}: ${verdict(took <= MEMORY.aim, took <= MEMORY.bound)}`,
  );
  note(`memory of the core, a lesson of ${nodes} nodes${words && " with comments"}`, `${took.toFixed(1)} MB`, "", `${MEMORY.bound} MB, aim ${MEMORY.aim}`, took <= MEMORY.bound);
}
