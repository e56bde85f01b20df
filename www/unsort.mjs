// Puts the core's bytes together again. `sort.mjs` has laid like to like, for deflate finds little in code as
// it stands: first the kinds of the instructions, in their order, then what stands behind them, sorted by
// what stands beside them.

/** How what stands behind an instruction is sorted; behind what is of no way stands nothing. */
export const ALONE = 1;
export const BY_NEXT = 2;
export const BY_LAST = 3;
/** A count, then as many bytes: the instruction itself or, where a function ends, its locals. */
export const WHOLE = 4;
export const END = 5;

/**
 * Reads what stands behind the instructions, a byte of each at a time: `behind[nth][place]`. `code` has the
 * kinds of the instructions, `ways` how each kind is sorted. `read` is asked for one byte after the other:
 * the first ones sorted by the kinds beside them, the further ones by the byte before.
 */
export function readBehind(code, ways, read) {
  // The kinds that are sorted apart come first, then those that are sorted together.
  const kinds = ways.length;
  const together = ways.indexOf(ALONE);
  const group = (place) => Math.min(code[place], together);
  // For each key the first place, and for each place the next of its key.
  let first = new Int32Array((together + 1) * kinds * kinds).fill(-1);
  const next = new Int32Array(code.length);
  const put = (place, key) => {
    next[place] = first[key];
    first[key] = place;
  };
  for (let place = code.length - 1; place >= 0; place -= 1) {
    const way = ways[code[place]];
    const step = way === BY_NEXT ? 1 : way === BY_LAST ? -1 : 0;
    const beside = way > ALONE ? (code[place + step] | 0) * kinds + (code[place + 2 * step] | 0) : 0;
    if (way) put(place, group(place) * kinds * kinds + beside);
  }
  const behind = [];
  let more;
  do {
    const nth = new Uint8Array(code.length);
    behind.push(nth);
    more = [];
    for (let key = 0; key < first.length; key += 1) {
      for (let place = first[key]; place >= 0; place = next[place]) {
        nth[place] = read(place, behind.length - 1);
        const goesOn = ways[code[place]] < WHOLE ? nth[place] > 127 : behind.length <= behind[0][place];
        if (goesOn) more.push(place);
      }
    }
    first = new Int32Array((together + 1) * 256).fill(-1);
    for (let at = more.length - 1; at >= 0; at -= 1) put(more[at], group(more[at]) * 256 + nth[more[at]]);
  } while (more.length);
  return behind;
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
  for (const end = at + symbols; at < end; at += 1) {
    const run = runs[packed[at]];
    for (let nth = 0; nth < run.length; nth += 1) code[to++] = run[nth];
  }
  const behind = readBehind(code, ways, () => packed[at++]);

  const core = new Uint8Array(length);
  core.set(take(before));
  to = before;
  let from = to;
  for (let place = 0; place < places; place += 1) {
    const way = ways[code[place]];
    const bytes = head[code[place]];
    for (let nth = 0; nth < bytes.length; nth += 1) core[to++] = bytes[nth];
    if (!way) continue;
    if (way < WHOLE) {
      for (let nth = 0; (core[to++] = behind[nth][place]) > 127; nth += 1);
      continue;
    }
    // The size of a function stands before it, and its locals.
    const body = way === END ? core.slice(from, to) : [];
    if (way === END) {
      let size = behind[0][place] + body.length;
      for (to = from; size > 127; size >>= 7) core[to++] = (size & 127) | 128;
      core[to++] = size;
    }
    for (let nth = 1; nth <= behind[0][place]; nth += 1) core[to++] = behind[nth][place];
    core.set(body, to);
    to += body.length;
    if (way === END) from = to;
  }
  core.set(take(packed.length - at), to);
  return core;
}
