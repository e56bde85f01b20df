// Turns fenced code blocks of Markdown into elements, because Markdown has no safe place for text
// inside custom tags: `pgn` a lesson, `fen` a diagram, `ply-diagram` and `ply-recap` one that
// has its attributes as tags, `[For "exchange"] [At "4.cxd5 exd5"]`.

import { page } from "../document.js";

const LANGUAGE = /(?:^|\s)lang(?:uage)?-(pgn|fen|ply-diagram|ply-recap|ply-recall|ply-quiz)(?:\s|$)/;
const ELEMENTS = { pgn: "ply-line", fen: "ply-diagram" };
const OURS = 'ply-line, ply-diagram, ply-recap, ply-recall, ply-quiz, [data-plyline~="off"]';
const WRAPPER = /highlight|lang(?:uage)?-|code/;

/** The fence that a block is; undefined for another, and inside an element of ours. */
export function fenceName(pre) {
  if (pre.closest(OURS)) return undefined;
  const marked = [pre.querySelector("code"), pre, pre.parentElement, wrapperOf(pre)];
  return marked.map((element) => LANGUAGE.exec(element?.className ?? "")?.[1]).find(Boolean);
}

/** Upgrades every fence below `root` that is not inside an element of ours or switched off. */
export function upgradeFences(root) {
  for (const pre of [...root.querySelectorAll("pre")]) {
    const name = fenceName(pre);
    if (!name) continue;
    const wrapper = wrapperOf(pre);
    const element = page.createElement(ELEMENTS[name] ?? name);
    if (name === "pgn") {
      // The core reads all other tags; the id has to be there before anything names it.
      const id = /^\s*\[Id\s+"([^"\\]+)"\s*\]/m.exec(pre.textContent);
      if (id) element.id = id[1];
    } else if (name !== "fen") tagsToAttributes(pre.textContent, element);
    wrapper.replaceWith(element);
    if (name === "ply-quiz" || name === "ply-recall") element.append(promptOf(pre.textContent));
    else element.append(pre);
  }
}

/** `[Side "black"]` is the attribute of that name. */
function tagsToAttributes(text, element) {
  const known = ["id", ...element.constructor.observedAttributes];
  for (const [, name, value] of text.matchAll(/\[\s*(\w+)\s+"([^"]*)"\s*\]/g)) {
    const attribute = name.toLowerCase();
    if (known.includes(attribute) && !element.hasAttribute(attribute)) element.setAttribute(attribute, value);
  }
  // Its text is not a placement.
  if (element.localName === "ply-diagram" && !element.hasAttribute("fen") && !element.hasAttribute("at")) {
    element.setAttribute("at", "start");
  }
}

/** The prompt of a fence, after its tags. */
function promptOf(text) {
  const prompt = page.createElement("p");
  prompt.textContent = text.replace(/\[\s*\w+\s+"[^"]*"\s*\]/g, "").trim();
  return prompt;
}

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
