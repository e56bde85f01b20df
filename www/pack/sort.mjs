// Sorts similar bytes of the core together before it is deflated; `unsort.rs` puts it together
// again in the page. Deflate finds repeated runs of bytes and frequent bytes. In plain code both
// are hidden, because the kinds of the instructions repeat where the numbers after them do not.

import { unsorted } from "./unsort.mjs";
import { functions, instructions } from "./wasm.mjs";

// The ways of `unsort.rs`.
const ALONE = 1;
const BY_NEXT = 2;
const BY_LAST = 3;
const WHOLE = 4;
const END = 5;

const CALL = 0x10;
const BRANCHES = [0x0c, 0x0d];
const CONSTANTS = [0x41, 0x42];
const VARIABLES = { first: 0x20, last: 0x26 };
const MEMORY = { first: 0x28, last: 0x3e };

// Kinds are bytes, and the values left over are for pairs. These numbers were found by trial.
const KINDS = 256;
/** Calls of the so many most called functions are kinds of their own. */
const OWN_CALLS = 20;
/** An instruction with no number, or several, is a kind of its own when it is frequent, or this long. */
const OFTEN = 6;
const LONG = 12;

/** How what is after an instruction is sorted, and how long its head is. */
function split(op) {
  const isIn = ({ first, last }) => op >= first && op <= last;
  if (op === CALL) return { way: BY_LAST, length: 1 };
  // Its alignment belongs to the kind.
  if (isIn(MEMORY)) return { way: ALONE, length: 2 };
  if (isIn(VARIABLES) || BRANCHES.includes(op) || CONSTANTS.includes(op)) return { way: BY_NEXT, length: 1 };
  return { way: WHOLE, length: 0 };
}

/** All instructions of the core: the way of each, its head and what is after it. */
function written(wasm, bodies) {
  const all = bodies.map((body) => instructions(wasm, body));
  const counts = new Map();
  for (const { list } of all) for (const bytes of list) counts.set(bytes.join(), (counts.get(bytes.join()) ?? 0) + 1);
  const calls = [...counts].filter(([bytes]) => bytes.startsWith(`${CALL},`)).sort(([, one], [, two]) => two - one);
  const called = new Set(calls.slice(0, OWN_CALLS).map(([bytes]) => bytes));
  const one = (bytes) => {
    const { way, length } = split(bytes[0]);
    const frequent = way === WHOLE && (counts.get(bytes.join()) >= OFTEN || bytes.length > LONG);
    if (frequent || called.has(bytes.join())) return { way: 0, head: bytes, behind: [] };
    const behind = bytes.subarray(length);
    return { way, head: bytes.subarray(0, length), behind: way === WHOLE ? [behind.length, ...behind] : behind };
  };
  // The last instruction of a function has its locals after it.
  const last = (bytes, locals) => ({ way: END, head: bytes, behind: [locals.length, ...locals] });
  return all.flatMap(({ locals, list }) => [...list.slice(0, -1).map(one), last(list.at(-1), locals)]);
}

/** The code in fewer symbols: as long as any is left, each replaces a frequent pair. */
function paired(code, heads) {
  const pairs = [];
  let symbols = [...code];
  for (let next = heads; next < KINDS; next += 1) {
    const singles = new Uint32Array(KINDS);
    const counts = new Uint32Array(KINDS * KINDS);
    for (const [at, symbol] of symbols.entries()) {
      singles[symbol] += 1;
      if (at > 0) counts[symbols[at - 1] * KINDS + symbol] += 1;
    }
    // Best are pairs of which the second is seldom without the first. Found by trial.
    let best = 0;
    let pair = 0;
    for (const [at, count] of counts.entries()) {
      const worth = count && count / Math.sqrt(singles[at % KINDS]);
      if (worth > best) [best, pair] = [worth, at];
    }
    const [one, two] = [Math.floor(pair / KINDS), pair % KINDS];
    const shorter = [];
    for (let at = 0; at < symbols.length; at += 1) {
      const found = symbols[at] === one && symbols[at + 1] === two;
      shorter.push(found ? next : symbols[at]);
      if (found) at += 1;
    }
    pairs.push(one, two);
    symbols = shorter;
  }
  return { pairs, symbols };
}

/** What is after the instructions of a list, in the order in which `unsort.rs` reads it. */
function behind(list, code, ways) {
  const kinds = ways.length;
  const together = ways.indexOf(ALONE);
  const group = (place) => Math.min(code[place], together);
  const beside = (place) => {
    const step = { [BY_NEXT]: 1, [BY_LAST]: -1 }[ways[code[place]]];
    return step ? (code[place + step] ?? 0) * kinds + (code[place + 2 * step] ?? 0) : 0;
  };
  const by = (key) => (one, two) => key(one) - key(two);
  const bytes = [];
  let open = [...list.keys()].filter((place) => ways[code[place]]);
  open.sort(by((place) => group(place) * kinds * kinds + beside(place)));
  for (let nth = 0; open.length > 0; nth += 1) {
    for (const place of open) bytes.push(list[place].behind[nth]);
    open = open.filter((place) => list[place].behind.length > nth + 1);
    open.sort(by((place) => group(place) * 256 + list[place].behind[nth]));
  }
  return bytes;
}

/** What is deflated: what `unsorted` takes, for a core and the module of `unsort.rs`. */
export async function sorted(wasm, unsort) {
  const { first, end, bodies } = functions(wasm);
  const list = written(wasm, bodies);
  const name = ({ way, head }) => [way, ...head].join();
  // Those that are sorted apart come first, and those without anything after them last.
  const kinds = [...new Map(list.map((each) => [name(each), each])).values()].sort(
    (one, two) => two.way - one.way || Buffer.compare(Buffer.from(one.head), Buffer.from(two.head)),
  );
  if (kinds.length > KINDS) throw new Error(`the core has ${kinds.length} kinds of instructions`);
  const numbers = new Map(kinds.map((kind, at) => [name(kind), at]));
  const code = Uint8Array.from(list, (each) => numbers.get(name(each)));
  const ways = kinds.map(({ way }) => way);
  const { pairs, symbols } = paired(code, kinds.length);
  const words = (...numbers) => Buffer.from(Uint32Array.from(numbers).buffer);
  const packed = Buffer.concat([
    words(4 + unsort.length),
    unsort,
    words(wasm.length, first, code.length, symbols.length, kinds.length, pairs.length / 2),
    Buffer.from([...ways, ...kinds.map(({ head }) => head.length), ...kinds.flatMap(({ head }) => [...head])]),
    Buffer.from(pairs),
    Buffer.from(symbols),
    Buffer.from(behind(list, code, ways)),
    wasm.subarray(0, first),
    wasm.subarray(end),
  ]);
  const again = await unsorted(Uint8Array.from(packed));
  if (Buffer.compare(again, wasm) !== 0) throw new Error("the sorted core is not what it was");
  return packed;
}
