// Turns fenced code blocks of Markdown (`pgn`) into elements, for Markdown has no safe place
// for text inside custom tags.

const LANGUAGE = /(?:^|\s)lang(?:uage)?-pgn(?:\s|$)/;
const WRAPPER = /highlight|lang(?:uage)?-|code/;

/** Upgrades every fence below `root` that is not inside an element of ours or switched off. */
export function upgradeFences(root) {
  for (const pre of [...root.querySelectorAll("pre")]) {
    if (pre.closest('ply-line, [data-plyline~="off"]')) continue;
    const wrapper = wrapperOf(pre);
    const marked = [pre.querySelector("code"), pre, pre.parentElement, wrapper];
    if (!marked.some((element) => LANGUAGE.test(element?.className ?? ""))) continue;
    const line = document.createElement("ply-line");
    // The core reads all other tags; the id has to be there before anything names it.
    const id = /^\s*\[Id\s+"([^"\\]+)"\s*\]/m.exec(pre.textContent);
    if (id) line.id = id[1];
    wrapper.replaceWith(line);
    line.append(pre);
  }
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
