// Where moves lead in a lesson that an element has read.

import { numbered } from "./parts.js";

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

/** The node of a move such as `2.Nf3` that several lines hold: on the way to this node or on from it, else on the main line, else the first;
 * null where there is none. */
export function nearest(lesson, locator, from) {
  const wanted = locator.replace(/\s+/g, "").replace(/[+#!?]+$/, "");
  const name = ({ ply, san }) => numbered([san.replace(/[+#]$/, "")], lesson.start, ply - 1);
  const way = new Set();
  for (let id = from; id !== null; id = lesson.node(id).parent) way.add(id);
  for (let [id] = lesson.node(from).children; id !== undefined; [id] = lesson.node(id).children) way.add(id);
  const found = [];
  for (let id = 1, node; (node = lesson.node(id)); id += 1) if (name(node) === wanted) found.push(node);
  return (found.find(({ id }) => way.has(id)) ?? found.find(({ line }) => line === null) ?? found[0])?.id ?? null;
}

/** The move that the line of a node stands beside; the node itself on the main line. */
export function besideOf(lesson, from) {
  for (let id = from; id; ) {
    const { parent } = lesson.node(id);
    const [first] = lesson.node(parent).children;
    if (first !== id) return first;
    id = parent;
  }
  return from;
}
