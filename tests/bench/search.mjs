// How many positions a second the page's core searches, in Node: `node search.mjs POSITIONS FEN…`. Called by search.rs.
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const core = join(dirname(fileURLToPath(import.meta.url)), "../../target/page/answers");
const glue = readFileSync(join(core, "glue.js")).toString("base64");
const { initSync, Look } = await import(`data:text/javascript;base64,${glue}`);
initSync({ module: readFileSync(join(core, "core.wasm")) });

const [budget, ...fens] = process.argv.slice(2);
const speeds = fens.map((fen) => {
  // A move of the position's own side that is always there in these.
  const [, , castling] = fen.split(" ");
  const look = Look.begin(`${fen}\0${castling.includes("K") ? "O-O" : "h3"}`, "", "en");
  if (!look) return 0;
  const began = performance.now();
  look.turn(Number(budget));
  return Number(budget) / (performance.now() - began) / 1e3;
});
const known = speeds.filter(Boolean).sort((one, other) => one - other);
console.log(`the page's core in Node: ${known[known.length >> 1].toFixed(2)} million positions a second`);
