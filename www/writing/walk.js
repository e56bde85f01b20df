// Where moves lead in a lesson that an element has read.

/** The node that a run of moves from the start leads to, or the last that it reaches. */
export function nodeOf(lesson, moves) {
  let id = 0;
  for (const san of moves) {
    const next = lesson.node(id).children.find((child) => lesson.node(child).san === san);
    if (next === undefined) break;
    id = next;
  }
  return id;
}

/** The moves from the start to a node. */
export function runOf(lesson, id) {
  const run = [];
  for (let node = lesson.node(id); node.parent !== null; node = lesson.node(node.parent)) run.unshift(node.san);
  return run;
}

/** How many moves come after a node, those of all its lines. */
export function after(lesson, id) {
  let moves = 0;
  const open = [id];
  while (open.length) {
    const { children } = lesson.node(open.pop());
    moves += children.length;
    open.push(...children);
  }
  return moves;
}

/** What is not finished, after a node and then from the start: a line that ends without a word, or with a move that the side of the
 * lesson does not answer. Null where all is. */
export function unfinished(lesson, side, from) {
  const ends = [];
  for (let id = 0, node; (node = lesson.node(id)); id += 1) {
    if (node.children.length) continue;
    const isTheirs = (node.fen.split(" ")[1] === "w") === (side === "white");
    if (isTheirs) ends.push({ id, why: "no reply to this move" });
    else if (!node.comment && !node.nags.length) ends.push({ id, why: "this line ends without a word" });
  }
  return ends.find(({ id }) => id > from) ?? ends[0] ?? null;
}
