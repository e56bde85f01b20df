// Names the core's functions in an order in which similar ones are near each other,
// because deflate finds what is repeated only within 32 kB. wasm-opt then sorts them by name.
// Called by build.sh with the file to read and the file to write.

import { readFileSync, writeFileSync } from "node:fs";
import { encoded, functions } from "./wasm.mjs";

const [from, to] = process.argv.slice(2);
// How many bytes count as near, and the power of a function's length by which what it shares is divided: one of the
// best of fifteen pairs, between which there were 0.4 %.
const [NEAR, POWER] = [200, 1];
const wasm = readFileSync(from);
const bodies = functions(wasm).bodies.map((body) => wasm.subarray(body.from, body.to));

/** What is compared: every run of four bytes, the shortest that deflate surely gains by. */
const runs = (body) => new Set(Array.from({ length: Math.max(body.length - 3, 0) }, (_, from) => body.readUInt32LE(from)));

/** The functions in their new order, each the most similar to those just before it. */
function ordered(functions) {
  const sets = functions.map(runs);
  const having = new Map();
  for (const [index, set] of sets.entries()) {
    for (const run of set) having.has(run) ? having.get(run).push(index) : having.set(run, [index]);
  }
  // Runs in few functions say more; runs in hundreds say nothing and take long.
  const worth = ({ length }) => (length > 1 && length < 400 ? 1 / Math.log2(1 + length) : 0);
  const shared = new Float64Array(functions.length);
  const counts = new Map();
  // A run counts once, however many of the functions nearby have it.
  const count = (index, step) => {
    for (const run of sets[index]) {
      const before = counts.get(run) ?? 0;
      counts.set(run, before + step);
      if (before && before + step) continue;
      const others = having.get(run);
      const weight = step * worth(others);
      if (weight) for (const other of others) shared[other] += weight;
    }
  };
  const left = new Set(functions.keys());
  const order = [];
  let near = [];
  let bytes = 0;
  for (let next = 0; next >= 0; ) {
    order.push(next);
    left.delete(next);
    near.push(next);
    bytes += functions[next].length;
    count(next, 1);
    while (bytes > NEAR && near.length > 1) {
      const gone = near.shift();
      bytes -= functions[gone].length;
      count(gone, -1);
    }
    next = -1;
    let best = -1;
    for (const index of left) {
      const alike = shared[index] / functions[index].length ** POWER;
      if (alike > best) [best, next] = [alike, index];
    }
  }
  return order;
}

const imported = WebAssembly.Module.imports(new WebAssembly.Module(wasm)).filter(({ kind }) => kind === "function").length;
const places = new Uint32Array(bodies.length);
for (const [place, index] of ordered(bodies).entries()) places[index] = place;
// The custom section "name", subsection 1: an index and a name of each function. The imported
// ones keep their order.
const names = [];
for (let index = 0; index < imported + bodies.length; index += 1) {
  const place = index < imported ? index : imported + places[index - imported];
  const name = Buffer.from(String(place).padStart(6, "0"));
  names.push(...encoded(index), name.length, ...name);
}
const listed = [...encoded(imported + bodies.length), ...names];
const section = [4, ...Buffer.from("name"), 1, ...encoded(listed.length), ...listed];
writeFileSync(to, Buffer.concat([wasm, Buffer.from([0, ...encoded(section.length), ...section])]));
