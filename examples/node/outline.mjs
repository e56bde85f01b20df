// Prints the lines of a PGN file, and what the checker says of it: node outline.mjs lesson.pgn

import { readFile } from "node:fs/promises";
import { readLesson, version } from "plyline";

const { lesson, findings } = await readLesson(await readFile(process.argv[2], "utf8"));
for (const { severity, code, line, column, message } of findings) {
  console.error(`${process.argv[2]}:${line}:${column}: ${severity} ${code}: ${message}`);
}
if (!lesson) process.exit(1);
console.log(`${lesson.tags.Event} (plyline ${version})`);
// The main line is the first move after each; the outline has the others, with their letters.
const main = [];
for (let node = lesson.node(0); node; node = lesson.node(node.children[0] ?? -1)) main.push(node.san);
console.log(main.slice(1).join(" "));
for (const { line, depth, moves } of lesson.outline()) console.log(`${"  ".repeat(depth)}${line} ${moves.join(" ")}`);
lesson.free();
