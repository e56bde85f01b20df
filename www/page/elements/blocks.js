// What becomes of the fences that are no lessons (fences.js finds them): `fen` a diagram, and
// `ply-diagram`, `ply-recap`, `ply-quiz` and `ply-recall` one that has its attributes as tags,
// `[For "exchange"] [At "4.cxd5 exd5"]`.

import { page } from "plyline-shared";

const make = (name) => page.createElement(name);

// A block with its attributes as tags, and what goes into the element: a prompt, or the words that a
// reader sees where it cannot be drawn, who has no use for tags.
const tagged = (name) => (pre) => {
  const element = make(name);
  tagsToAttributes(pre.textContent, element);
  return [element, wordsOf(pre)];
};

/** By the names of fences: returns an element for a block, and what goes into it. */
export const FENCES = {
  fen: (pre) => [make("ply-diagram"), pre],
  "ply-diagram": tagged("ply-diagram"),
  "ply-recap": tagged("ply-recap"),
  "ply-quiz": tagged("ply-quiz"),
  "ply-recall": tagged("ply-recall"),
};

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

/** The words of a fence, after its tags; an empty text where there are none. */
function wordsOf({ textContent }) {
  const words = page.createElement("p");
  words.textContent = textContent.replace(/\[\s*\w+\s+"[^"]*"\s*\]/g, "").trim();
  return words.textContent ? words : "";
}
