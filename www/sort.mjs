// Lays like to like in the core before it is deflated; `unsort.mjs` puts it together again in the page.
// Deflate finds repeated runs of bytes and frequent bytes. In code as it stands both are hidden, for the kinds
// of the instructions repeat where the numbers behind them do not.

import { ALONE, BY_LAST, BY_NEXT, END, readBehind, unsorted, WHOLE } from "./unsort.mjs";
import { functions, instructions } from "./wasm.mjs";

const CALL = 0x10;
const BRANCHES = [0x0c, 0x0d];
const CONSTANTS = [0x41, 0x42];
const VARIABLES = { first: 0x20, last: 0x26 };
const MEMORY = { first: 0x28, last: 0x3e };

// Kinds are bytes, and what they leave is for pairs. These numbers were found by trial.
const KINDS = 256;
/** As many calls, of the functions most called, are kinds of their own. */
const OWN_CALLS = 20;
/** An instruction with no number, or several, is a kind of its own when it stands often, or is so long. */
const OFTEN = 6;
const LONG = 12;

/** How what stands behind an instruction is sorted, and how long its head is. */
function split(op) {
  const isIn = ({ first, last }) => op >= first && op <= last;
  if (op === CALL) return { way: BY_LAST, length: 1 };
  // How it is aligned goes with the kind.
  if (isIn(MEMORY)) return { way: ALONE, length: 2 };
  if (isIn(VARIABLES) || BRANCHES.includes(op) || CONSTANTS.includes(op)) return { way: BY_NEXT, length: 1 };
  return { way: WHOLE, length: 0 };
}

/** All instructions of the core: the way of each, its head and what stands behind it. */
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
  // The last instruction of a function has its locals behind it.
  const last = (bytes, locals) => ({ way: END, head: bytes, behind: [locals.length, ...locals] });
  return all.flatMap(({ locals, list }) => [...list.slice(0, -1).map(one), last(list.at(-1), locals)]);
}

/** The code in fewer symbols: as long as there are any left, each stands for a pair that is frequent. */
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

/** What is deflated. */
export function sorted(wasm) {
  const { first, end, bodies } = functions(wasm);
  const list = written(wasm, bodies);
  const name = ({ way, head }) => [way, ...head].join();
  const kinds = [...new Map(list.map((each) => [name(each), each])).values()].sort(
    (one, two) => two.way - one.way || Buffer.compare(Buffer.from(one.head), Buffer.from(two.head)),
  );
  if (kinds.length > KINDS) throw new Error(`the core has ${kinds.length} kinds of instructions`);
  const numbers = new Map(kinds.map((kind, at) => [name(kind), at]));
  const code = Uint8Array.from(list, (each) => numbers.get(name(each)));
  const { pairs, symbols } = paired(code, kinds.length);
  const behind = [];
  const ways = kinds.map(({ way }) => way);
  readBehind(code, ways, (place, nth) => {
    const byte = list[place].behind[nth];
    behind.push(byte);
    return byte;
  });
  const sizes = [wasm.length, first, code.length, symbols.length, kinds.length, pairs.length / 2];
  const packed = new Uint8Array(
    Buffer.concat([
      Buffer.from(Uint32Array.from(sizes).buffer),
      Buffer.from([...ways, ...kinds.map(({ head }) => head.length), ...kinds.flatMap(({ head }) => [...head])]),
      Buffer.from(pairs),
      Buffer.from(symbols),
      Buffer.from(behind),
      wasm.subarray(0, first),
      wasm.subarray(end),
    ]),
  );
  if (Buffer.compare(Buffer.from(unsorted(packed)), wasm) !== 0) throw new Error("the sorted core is not what it was");
  return packed;
}
