// Puts the core's bytes together again. `sort.mjs` has laid like to like, for deflate finds little in code as
// it stands: first the kinds of the instructions, in their order, then what stands behind them, sorted by
// what stands beside them.

/** How what stands behind an instruction is sorted; what is not named here has nothing behind it. */
export const BY_NEXT = 1;
export const BY_LAST = 2;
export const ALONE = 3;
/** A count, then as many bytes: those of an instruction, or, where a function ends, of its locals. */
export const WHOLE = 4;
export const END = 5;

const PLACES = 2 ** 20;

/**
 * Reads what stands behind the instructions, a byte of each at a time: `bytes[nth][place]`. `code` has the
 * kinds of the instructions, `ways` how each kind is sorted. What is sorted alike keeps its order.
 */
export function readBehind(code, ways, read) {
  const bytes = [];
  const keys = new Float64Array(code.length);
  const key = (place, beside) => {
    const way = ways[code[place]];
    return ((way < ALONE ? code[place] : 256 + way) * 65536 + beside) * PLACES + place;
  };
  let count = 0;
  for (let place = 0; place < code.length; place += 1) {
    const way = ways[code[place]];
    const step = way === BY_NEXT ? 1 : -1;
    const beside = way < ALONE ? code[place + step] * 256 + code[place + 2 * step] : 0;
    if (way) keys[count++] = key(place, beside || 0);
  }
  while (count) {
    const nth = new Uint8Array(code.length);
    const sorted = keys.slice(0, count).sort();
    count = 0;
    for (const each of sorted) {
      const place = each % PLACES;
      const byte = (nth[place] = read(place, bytes.length));
      const more = ways[code[place]] < WHOLE ? byte > 127 : bytes.length < (bytes[0] ?? nth)[place];
      if (more) keys[count++] = key(place, byte);
    }
    bytes.push(nth);
  }
  return bytes;
}

/** The core as it was before. */
export function unsorted(packed) {
  let at = 24;
  const take = (size) => packed.subarray(at, (at += size));
  const [length, before, places, symbols, heads, pairs] = new Uint32Array(packed.buffer, 0, 6);
  const ways = take(heads);
  const head = Array.from(take(heads), (size) => [...take(size)]);

  // A symbol is a kind of instruction or a pair of earlier symbols.
  const runs = head.map((_, kind) => [kind]);
  for (let pair = 0; pair < pairs; pair += 1) {
    const [one, two] = take(2);
    runs.push([...runs[one], ...runs[two]]);
  }
  const code = new Uint8Array(places);
  let to = 0;
  for (const symbol of take(symbols)) for (const kind of runs[symbol]) code[to++] = kind;
  const behind = readBehind(code, ways, () => packed[at++]);

  const core = new Uint8Array(length);
  core.set(take(before));
  to = before;
  let from = to;
  for (let place = 0; place < places; place += 1) {
    const way = ways[code[place]];
    for (const byte of head[code[place]]) core[to++] = byte;
    const list = way < WHOLE ? -1 : behind[0][place];
    let body;
    if (way === END) {
      // The size of a function stands before it, and its locals.
      body = core.slice(from, to);
      let size = list + body.length;
      for (to = from; size > 127; size >>= 7) core[to++] = (size & 127) | 128;
      core[to++] = size;
    }
    if (list >= 0) for (let nth = 1; nth <= list; nth += 1) core[to++] = behind[nth][place];
    else if (way) for (let nth = 0; (core[to++] = behind[nth++][place]) > 127; );
    if (body) {
      core.set(body, to);
      from = to += body.length;
    }
  }
  core.set(take(packed.length - at), to);
  return core;
}
