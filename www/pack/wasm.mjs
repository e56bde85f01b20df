// Reads the core's bytes while the page is built: its sections, its functions and their instructions.
// Called by order.mjs and sort.mjs.

// WebAssembly core specification, "Binary Format".
const CODE = 10;
const BLOCKS = [0x02, 0x03, 0x04];
const BR_TABLE = 0x0e;
const CALL_INDIRECT = 0x11;
const F32_CONST = 0x43;
const F64_CONST = 0x44;
const PREFIX = 0xfc;
/** The numbers after each instruction, for all that the core may have; the others are listed above. */
const NUMBERS = new Map([
  [0, [0x00, 0x01, 0x05, 0x0b, 0x0f, 0x1a, 0x1b, 0xd1]],
  [1, [0x0c, 0x0d, 0x10, 0x25, 0x26, 0x3f, 0x40, 0x41, 0x42, 0xd0, 0xd2]],
  [2, [CALL_INDIRECT]],
]);
for (let op = 0x20; op <= 0x24; op += 1) NUMBERS.get(1).push(op);
for (let op = 0x28; op <= 0x3e; op += 1) NUMBERS.get(2).push(op);
for (let op = 0x45; op <= 0xc4; op += 1) NUMBERS.get(0).push(op);
const COUNT = new Map([...NUMBERS].flatMap(([count, ops]) => ops.map((op) => [op, count])));
/** The same for those after the prefix: conversions, then those of memory, data and tables. */
const PREFIXED = [0, 0, 0, 0, 0, 0, 0, 0, 2, 1, 2, 1, 2, 1, 2, 1, 1, 1];

/** A number written at its shortest. */
export const encoded = (value) => (value < 128 ? [value] : [(value & 127) | 128, ...encoded(value >>> 7)]);

/** Where the code section is, and its functions: where each begins after its size, and its end. */
export function functions(wasm) {
  let at = 8;
  const number = () => {
    for (let value = 0, shift = 0; ; shift += 7) {
      const byte = wasm[at++];
      value |= (byte & 127) << shift;
      if (byte < 128) return value >>> 0;
    }
  };
  while (at < wasm.length) {
    const kind = wasm[at++];
    const length = number();
    if (kind !== CODE) {
      at += length;
      continue;
    }
    const end = at + length;
    const count = number();
    const first = at;
    const bodies = Array.from({ length: count }, () => {
      const size = number();
      return { from: at, to: (at += size) };
    });
    return { first, end, bodies };
  }
  throw new Error("this module has no code");
}

/** The bytes of a function: those that declare its locals, and each of its instructions. */
export function instructions(wasm, { from, to }) {
  let at = from;
  const skip = (numbers) => {
    for (let left = numbers; left > 0; left -= 1) while (wasm[at++] > 127);
  };
  const groups = wasm[at];
  if (groups > 127) throw new Error("a function has too many kinds of locals");
  skip(1);
  for (let group = 0; group < groups; group += 1) {
    skip(1);
    at += 1;
  }
  const locals = wasm.subarray(from, at);
  const list = [];
  while (at < to) {
    const start = at;
    const op = wasm[at++];
    if (BLOCKS.includes(op)) skip(1);
    else if (op === BR_TABLE) {
      if (wasm[at] > 127) throw new Error("a table of branches is too long");
      skip(wasm[at] + 2);
    } else if (op === F32_CONST) at += 4;
    else if (op === F64_CONST) at += 8;
    else if (op === PREFIX && wasm[at] in PREFIXED) skip(1 + PREFIXED[wasm[at]]);
    else if (COUNT.has(op)) skip(COUNT.get(op));
    else throw new Error(`no instruction is known for the byte ${op} at ${start}`);
    list.push(wasm.subarray(start, at));
  }
  if (at !== to) throw new Error(`the function at ${from} ends elsewhere than its instructions`);
  return { locals, list };
}
