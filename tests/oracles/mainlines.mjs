// The main lines of real games as chess.js (npm `chess.js` 1.4.0) reads them, against `plyline tree --json`.
//
//     node mainlines.mjs CHESSJS GAMES PLYLINE [FIRST COUNT]
//
// CHESSJS is a folder with node_modules, GAMES the unpacked archive of the crate `pgn-reader` (1,110 tournament games,
// found by their number; see games.py). Compared are the SAN of every move and the FEN after every ply, all six fields.
import { execFileSync } from "node:child_process";
import { readdirSync, readFileSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const GAMES = 1110;
const SHOWN = 40;
const [chessjs, folder, plyline, first = "0", count = String(GAMES)] = process.argv.slice(2);
const { Chess } = createRequire(join(resolve(chessjs), "node_modules", "x.js"))("chess.js");

function collection() {
  for (const name of readdirSync(folder, { recursive: true, encoding: "utf8" }).sort()) {
    if (!/benches.[^/\\]*\.pgn$/.test(name)) continue;
    const games = readFileSync(join(folder, name), "utf8").split(/\n\n(?=\[Event )/);
    if (games.length === GAMES) return games;
  }
  throw new Error(`no file with ${GAMES} games in ${folder}`);
}

const games = collection().slice(Number(first), Number(first) + Number(count));
const scratch = mkdtempSync(join(tmpdir(), "plyline-"));
const path = join(scratch, "games.pgn");
writeFileSync(path, games.join("\n\n"));
const output = execFileSync(plyline, ["tree", path, "--json"],
  { maxBuffer: 2 ** 30, stdio: ["ignore", "pipe", "ignore"] });
const trees = output.toString().trimEnd().split("\n").map((line) => JSON.parse(line));
rmSync(scratch, { recursive: true });

const wrong = [];
let plies = 0;
if (trees.length !== games.length) wrong.push(`${games.length} games, plyline reads ${trees.length}`);
trees.forEach((tree, at) => {
  const chess = new Chess();
  chess.loadPgn(games[at]);
  const theirs = chess.history({ verbose: true });
  const ours = tree.nodes.slice(1);
  const where = `game ${Number(first) + at + 1}`;
  if (theirs.length !== ours.length) {
    wrong.push(`${where}: chess.js reads ${theirs.length} plies, plyline ${ours.length}`);
  }
  theirs.slice(0, ours.length).forEach((move, ply) => {
    plies += 1;
    const have = ours[ply];
    if (move.san !== have.san) wrong.push(`${where}, ply ${ply + 1}: chess.js writes ${move.san}, plyline ${have.san}`);
    if (move.after !== have.fen) {
      wrong.push(`${where}, after ${move.san} (ply ${ply + 1}): chess.js has ${move.after}, plyline ${have.fen}`);
    }
  });
});
console.log(wrong.slice(0, SHOWN).join("\n") + (wrong.length > SHOWN ? `\nand ${wrong.length - SHOWN} more` : ""));
console.log(`${trees.length} games, ${plies} plies compared`);
process.exit(wrong.length === 0 && plies > 0 ? 0 : 1);
