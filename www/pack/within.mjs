// Keeps a style sheet for shadow roots from styling the page that links it. A baked page links it in its
// head too, for two engines paint a declarative root without style else; and there `p` would mean every
// paragraph of the page. What it says of elements is put within `:where(:host)`, which is nothing outside
// of a shadow root and counts for nothing within one.

const WITHIN = ":where(:host){";

// What is in a piece is drawn by `use`, whose own tree has no such host in Firefox: there the piece is
// what it is within.
const OF_PIECE = /^\.[bde]$/;
const PIECE = ":where(g[id]) ";

/** The rules of a minified sheet, each what it is about and its block; of a statement the block is "". */
function* rules(css) {
  for (let at = 0; at < css.length; ) {
    const open = css.slice(at).search(/[{;]/) + at;
    if (open < at) return;
    let end = open + 1;
    if (css[open] === "{") {
      for (let depth = 1; depth; end += 1) depth += { "{": 1, "}": -1 }[css[end]] ?? 0;
    }
    yield [css.slice(at, open), css.slice(open, end)];
    at = end;
  }
}

/** The selectors of a list, at whose outer commas it is cut. */
function selectors(list) {
  const cut = [""];
  let depth = 0;
  for (const letter of list) {
    depth += { "(": 1, "[": 1, ")": -1, "]": -1 }[letter] ?? 0;
    if (letter === "," && !depth) cut.push("");
    else cut[cut.length - 1] += letter;
  }
  return cut;
}

/** The sheet with every rule within a shadow root. Quoted braces are not expected in it. */
export function within(css) {
  let made = "";
  let held = ""; // rules that are next to each other share one block
  const close = () => {
    if (held) made += `${WITHIN}${held}}`;
    held = "";
  };
  for (const [about, block] of rules(css)) {
    if (/^@(media|container|supports)/.test(about)) {
      close();
      made += `${about}{${within(block.slice(1, -1))}}`;
      continue;
    }
    const isHost = (selector) => selector.includes(":host") || selector.startsWith(PIECE);
    const placed = (selector) => (OF_PIECE.test(selector) ? PIECE + selector : selector);
    const of = about.startsWith("@") ? [] : selectors(about).map(placed);
    const [hosts, others] = [of.filter(isHost), of.filter((one) => !isHost(one))];
    if (hosts.length || !of.length) {
      close();
      made += `${hosts.join(",") || about}${block}`;
    }
    if (others.length) held += `${others.join(",")}${block}`;
  }
  close();
  return made;
}
