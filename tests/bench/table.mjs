// Medians with their spread, and tables in columns: for the benchmarks.

import { appendFileSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

/** Of a list of numbers the median and the middle half; as a text without decimals, or with so many. */
export function spread(numbers, decimals = 0) {
  const sorted = [...numbers].sort((one, other) => one - other);
  const at = (part) => sorted[Math.round((sorted.length - 1) * part)];
  const [low, median, high] = [at(0.25), at(0.5), at(0.75)];
  const text = `${median.toFixed(decimals)} (${low.toFixed(decimals)}-${high.toFixed(decimals)})`;
  return { low, median, high, text };
}

/** Rows in columns as wide as they need to be; the first is their head. */
export function table(rows) {
  const widths = rows[0].map((_, at) => Math.max(...rows.map((row) => String(row[at]).length)));
  const line = (row) => row.map((cell, at) => String(cell).padEnd(widths[at])).join("  ").trimEnd();
  return [line(rows[0]), widths.map((width) => "-".repeat(width)).join("  "), ...rows.slice(1).map(line)].join("\n");
}

/** Adds a row to the file that PLYLINE_TABLE names, if it names one (noted.rs does the same): what is measured, its median, the
 * middle half of the rounds, the bound, and whether that is held; nothing for what has no bound. */
export function note(what, median, middle, bound, held) {
  const row = [what, median, middle, bound, held === undefined ? "" : held ? "held" : "MISSED"];
  if (process.env.PLYLINE_TABLE) appendFileSync(process.env.PLYLINE_TABLE, `${row.join("\t")}\n`);
}

// The table of a file of such rows: `node table.mjs FILE`. It ends with exit code 1 where a bound is missed, or nothing was measured.
if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const rows = readFileSync(process.argv[2], "utf8").trim().split("\n").filter(Boolean).map((row) => row.split("\t"));
  console.log(table([["what", "median", "middle half", "bound", ""], ...rows]));
  const missed = rows.filter((row) => row[4] === "MISSED").length;
  console.log(`${rows.length} rows, ${missed} over their bound`);
  process.exitCode = rows.length === 0 || missed ? 1 : 0;
}
