// <ply-prose>, and how an article is read: when the page is idle, in slices, each paragraph as one
// text, with the text node of each of its parts. Only text nodes are split; what names a move
// becomes a <ply-ref>.

import { page, reflect } from "plyline-shared";
import { BAKED } from "./baked.js";
import { Companion } from "./companion.js";

// Milliseconds of reading before the page gets a turn.
const SLICE = 8;
// Where nothing is read.
const CLOSED =
  'a, button, code, pre, kbd, samp, input, textarea, select, script, style, svg, math, noscript, [contenteditable], [data-plyline~="off"], ply-line, ply-prose, ply-ref, ply-diagram, ply-recap, ply-quiz, ply-recall';
// What baking made of moves: it is read as words.
const LINK = `a${BAKED}`;
// What does not end a paragraph.
const INLINE =
  /^(?:a|abbr|b|bd[io]|button|cite|code|del|dfn|em|font|i|img|input|ins|kbd|label|mark|math|ply-ref|q|s|samp|select|small|span|strong|su[bp]|svg|time|tt|u|var|wbr)$/;

const rest = () =>
  new Promise((done) => (globalThis.requestIdleCallback ? requestIdleCallback(done, { timeout: 1000 }) : setTimeout(done, 1)));

/** The paragraphs below a root: each its text, and its text nodes with where they begin in it. */
function* paragraphs(root) {
  let text = "";
  let parts = [];
  const isBlock = ({ localName }) => localName && localName !== "br" && !INLINE.test(localName);
  for (let node = root.firstChild; node; ) {
    if (isBlock(node)) {
      yield { text, parts };
      [text, parts] = ["", []];
    }
    let closed = true;
    if (node.nodeType === Node.TEXT_NODE) {
      parts.push({ node, start: text.length });
      text += node.data.replaceAll(/[\t\n\f\r]/g, " "); // which end no sentence in a page
    } else if (node.localName === "br") text += "\n";
    else if (node.localName) {
      closed = node.matches(CLOSED) && !node.matches(LINK);
      if (closed) text += "\ufffc"; // something is there
    }
    if (!closed && node.firstChild) {
      node = node.firstChild;
      continue;
    }
    while (node && node !== root && !node.nextSibling) {
      node = node.parentNode;
      if (node && isBlock(node)) {
        yield { text, parts };
        [text, parts] = ["", []];
      }
    }
    node = node === root ? null : node?.nextSibling;
  }
}

/** Makes words of the links that baking made in a paragraph; returns where the one with the focus began. */
function unlink(paragraph) {
  let focused;
  for (const { node, start } of paragraph.parts) {
    const link = node.parentElement?.closest(LINK);
    if (!link) continue;
    if (link === page.activeElement) focused = start;
    const [before, after] = [link.previousSibling, link.nextSibling];
    const { firstChild, lastChild } = link;
    link.replaceWith(...link.childNodes);
    join(lastChild, after);
    join(before, firstChild);
  }
  paragraph.parts = paragraph.parts.filter(({ node }) => node.parentNode);
  return focused;
}

// Two texts side by side become one.
function join(one, other) {
  if (one?.nodeType !== Node.TEXT_NODE || other?.nodeType !== Node.TEXT_NODE) return;
  one.appendData(other.data);
  other.remove();
}

/** Links what was found in a paragraph, from its end, so that places stay what they are. */
function link(paragraph, found, line, runtime) {
  const focused = unlink(paragraph);
  const { parts } = paragraph;
  for (let at = found.length - 3; at >= 0; at -= 3) {
    const [from, to, run] = found.slice(at, at + 3);
    while (parts.at(-1).start > from) parts.pop();
    let { node, start } = parts.at(-1);
    if (to - start > node.length) continue; // an element begins or ends inside it
    if (to - start < node.length) node.splitText(to - start);
    if (from > start) node = node.splitText(from - start);
    const ref = page.createElement("ply-ref");
    runtime.of(ref).replace(node, line, run);
    if (from === focused) ref.firstChild.focus({ preventScroll: true });
  }
}

let before = Promise.resolve(); // articles are read one after the other
const known = new WeakMap(); // what was found in those that are read

async function read(root, line, runtime) {
  const findings = [];
  if (root.parentElement?.closest(CLOSED.replace(" ply-prose,", ""))) return findings;
  await rest();
  let began = performance.now();
  let first = true;
  for (const paragraph of paragraphs(root)) {
    if (!/[1-8O]/.test(paragraph.text)) continue;
    const found = runtime.of(line).read(paragraph.text, first);
    if (!found) break;
    first = false;
    findings.push(...found.shift());
    link(paragraph, found, line, runtime);
    if (performance.now() - began < SLICE) continue;
    await rest();
    began = performance.now();
  }
  runtime.of(line).note(findings, root.localName !== "ply-prose");
  return findings;
}

function readOnce(root, line, key, runtime) {
  if (!known.has(key)) known.set(key, (before = before.catch(() => {}).then(() => read(root, line, runtime))));
  return known.get(key);
}

class ProseCompanion extends Companion {
  take = (line) => {
    const { element, runtime } = this;
    if (line?.current) return readOnce(element, line, element, runtime);
    return this.lend((mounted) => mounted.refer("start"))?.[0];
  };
}

/** The class of <ply-prose>. */
export function makeProse(PlyCompanion, runtime) {
  // `[Prose "yes"]`: the article around a lesson is read unchanged.
  const readAround = (line) => {
    const root = line.closest("article, main, body");
    if (root && line.localName === "ply-line" && !known.has(line) && line.lesson?.tags.Prose === "yes") {
      readOnce(root, line, line, runtime);
    }
  };
  page?.addEventListener("ply-ready", (event) => readAround(event.composedPath()[0]));
  // Those that were read before this was loaded.
  for (const { element } of runtime.present) readAround(element);

  return reflect(
    class PlyProse extends PlyCompanion {
      static observedAttributes = ["for"];

      constructor() {
        super(ProseCompanion);
      }
    },
  );
}
