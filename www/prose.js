// The class of <ply-prose>, and how an article is read: when the page is at rest, in slices, each
// paragraph as one text with what is known of which text node holds which part of it. Only text
// nodes are split; what names a move becomes a <ply-ref>.

import { reflect } from "./reflect.js";

// Milliseconds of reading between two rests.
const SLICE = 8;
// Where nothing is read.
const CLOSED =
  'a, button, code, pre, kbd, samp, input, textarea, select, script, style, svg, math, noscript, [contenteditable], [data-plyline~="off"], ply-line, ply-prose, ply-ref, ply-diagram, ply-recap, ply-quiz, ply-recall';
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
      closed = node.matches(CLOSED);
      if (closed) text += "\ufffc"; // something stands there
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

/** Links what was found in a paragraph, from its end, so that places stay what they are. */
function link({ parts }, found, line, Ref) {
  for (let at = found.length - 3; at >= 0; at -= 3) {
    const [from, to, run] = found.slice(at, at + 3);
    while (parts.at(-1).start > from) parts.pop();
    let { node, start } = parts.at(-1);
    if (to - start > node.length) continue; // an element begins or ends inside it
    if (to - start < node.length) node.splitText(to - start);
    if (from > start) node = node.splitText(from - start);
    Ref.replace(node, line, run);
  }
}

export function makeProse(Line, Still, Ref) {
  let before = Promise.resolve(); // articles are read one after the other
  const known = new WeakMap(); // what was found in those that are read

  async function read(root, line) {
    const findings = [];
    if (root.parentElement?.closest(CLOSED.replace(" ply-prose,", ""))) return findings;
    await rest();
    let began = performance.now();
    let first = true;
    for (const paragraph of paragraphs(root)) {
      if (!/[1-8O]/.test(paragraph.text)) continue;
      const found = Line.read(line, paragraph.text, first);
      if (!found) break;
      first = false;
      findings.push(...found.shift());
      link(paragraph, found, line, Ref);
      if (performance.now() - began < SLICE) continue;
      await rest();
      began = performance.now();
    }
    Line.note(line, findings, root.localName !== "ply-prose");
    return findings;
  }

  function readOnce(root, line, key) {
    if (!known.has(key)) known.set(key, (before = before.catch(() => {}).then(() => read(root, line))));
    return known.get(key);
  }

  class PlyProse extends Still {
    static observedAttributes = ["for"];

    static take(element, line) {
      if (line?.current) return readOnce(element, line, element);
      return Still.lend(element, (mounted) => mounted.refer("start"))?.[0];
    }
  }

  // `[Prose "yes"]`: the article around a lesson is read as it stands.
  globalThis.document?.addEventListener("ply-ready", (event) => {
    const [line] = event.composedPath();
    const root = line.closest("article, main, body");
    if (root && line.localName === "ply-line" && !known.has(line) && line.lesson?.tags.Prose === "yes") readOnce(root, line, line);
  });

  return reflect(PlyProse);
}
