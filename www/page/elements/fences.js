// Turns fenced code blocks of Markdown into elements, because Markdown has no safe place for text
// inside custom tags: `pgn` a lesson, the others in blocks.js.

import { page } from "../document.js";

const LANGUAGE = /(?:^|\s)lang(?:uage)?-(pgn|fen|ply-diagram|ply-recap|ply-recall|ply-quiz)(?:\s|$)/;
const OURS = 'ply-line, ply-diagram, ply-recap, ply-recall, ply-quiz, [data-plyline~="off"]';
const WRAPPER = /highlight|lang(?:uage)?-|code/;

/** The fence that a block is; undefined for another, and inside an element of ours. */
export function fenceName(pre) {
  if (pre.closest(OURS)) return undefined;
  const marked = [pre.querySelector("code"), pre, pre.parentElement, wrapperOf(pre)];
  return marked.map((element) => LANGUAGE.exec(element?.className ?? "")?.[1]).find(Boolean);
}

/**
 * Replaces every fence below `root` that is not inside an element of ours or switched off.
 * @param makers by the names of fences: returns an element for a block, and what goes into it
 */
export function upgradeFences(root, makers) {
  for (const pre of [...root.querySelectorAll("pre")]) {
    const make = makers[fenceName(pre)];
    if (!make) continue;
    const wrapper = wrapperOf(pre);
    const [element, content] = make(pre);
    wrapper.replaceWith(element);
    element.append(content);
  }
}

/** The fence of a lesson; blocks.js has the others. */
export const LESSON = {
  pgn(pre) {
    const element = page.createElement("ply-line");
    // The core reads all other tags; the id has to be there before anything names it.
    const id = /^\s*\[Id\s+"([^"\\]+)"\s*\]/m.exec(pre.textContent);
    if (id) element.id = id[1];
    return [element, pre];
  },
};

/** A lesson without an id gets `lesson`, `lesson-2` … in page order. */
export function nameLessons(root) {
  let number = 1;
  for (const line of root.querySelectorAll("ply-line:not([id])")) {
    for (; !line.id; number += 1) {
      const id = number === 1 ? "lesson" : `lesson-${number}`;
      if (!root.getElementById(id)) line.id = id;
    }
  }
}

/** The outermost wrapper of a highlighter that holds the block and nothing else. */
function wrapperOf(pre) {
  let block = pre;
  for (;;) {
    const parent = block.parentElement;
    const alone = parent?.children.length === 1 && parent.textContent.trim() === block.textContent.trim();
    if (!alone || !/^(?:div|figure)$/.test(parent.localName) || !WRAPPER.test(parent.className)) return block;
    block = parent;
  }
}
