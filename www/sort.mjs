// Lays like to like in the core before it is deflated; `unsort.mjs` puts it together again in the page.
// Deflate finds repeated runs of bytes and frequent bytes. In code as it stands both are hidden, for the kinds
// of the instructions repeat where the numbers behind them do not.

import { ALONE, BY_LAST, BY_NEXT, END, readBehind, unsorted, WHOLE } from "./unsort.mjs";
import { functions, instructions } from "./wasm.mjs";

const CALL = 0x10;
const CONST = [0x41, 0x42];
const MEMORY = { first: 0x28, last: 0x3e };
const BRANCHES = [0x0c, 0x0d];
const VARIABLES = { first: 0x20, last: 0x26 };
const between = (op, { first, last }) => op >= first && op <= last;

// Kinds are bytes, and what they leave is for pairs. Both numbers were found by trial.
const KINDS = 256;
/** As many calls of the functions most called are kinds of their own. */
const OWN_CALLS = 20;
/** An instruction with several numbers that stands less often is no kind of its own. */
const OFTEN = 6;

/** How an instruction is written: its way, its head, and what stands behind it. */
function written(bytes, own) {
  const [op] = bytes;
  const split = (way, head) => ({ way, head: bytes.subarray(0, head), behind: bytes.subarray(head) });
  if (own(bytes)) return split(0, bytes.length);
  if (op === CALL) return split(BY_LAST, 1);
  // How it is aligned goes with the kind.
  if (between(op, MEMORY)) return split(ALONE, 2);
  if (between(op, VARIABLES) || CONST.includes(op) || BRANCHES.includes(op)) return split(BY_NEXT, 1);
  return { way: WHOLE, head: bytes.subarray(0, 0), behind: [bytes.length, ...bytes] };
}

/** All instructions of the core. The last of a function has its locals behind it. */
function listed(wasm, bodies) {
  const all = bodies.map((body) => instructions(wasm, body));
  const name = (bytes) => bytes.join();
  const counts = new Map();
  for (const { list } of all) for (const bytes of list) counts.set(name(bytes), (counts.get(name(bytes)) ?? 0) + 1);
  const calls = [...counts].filter(([bytes]) => bytes.startsWith(`${CALL},`)).sort(([, one], [, two]) => two - one);
  const called = new Set(calls.slice(0, OWN_CALLS).map(([bytes]) => bytes));
  const several = (op) => ![CALL, ...CONST, ...BRANCHES].includes(op) && !between(op, MEMORY) && !between(op, VARIABLES);
  const own = (bytes) => called.has(name(bytes)) || (several(bytes[0]) && counts.get(name(bytes)) >= OFTEN);
  return all.flatMap(({ locals, list }) =>
    list.map((bytes, at) =>
      at < list.length - 1 ? written(bytes, own) : { way: END, head: bytes, behind: [locals.length, ...locals] },
    ),
  );
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
  const list = listed(wasm, bodies);
  const name = ({ way, head }) => [way, ...head].join();
  const kinds = [...new Map(list.map((each) => [name(each), each])).values()].sort((one, two) =>
    Buffer.compare(Buffer.from(one.head), Buffer.from(two.head)),
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
