// What CSS cannot read or say: the value of a custom property, the background behind an element,
// how wide it is.

import { page } from "../document.js";
import { painted } from "../turns.js";

/** Gives an element the state `hatched` if `--ply-square` says so, else removes it. */
export function findSquares(element, { states }) {
  const wanted = getComputedStyle(element).getPropertyValue("--ply-square").trim();
  if (wanted === "hatch") states.add("hatched");
  else states.delete("hatched");
}

/** The paper behind an element: the nearest background that can be seen. */
export function findPaper(element) {
  for (let at = element; at; at = at.parentElement ?? at.getRootNode().host) {
    const { backgroundColor } = getComputedStyle(at);
    if (/^rgb\(|^color\([^/]*\)$|^ok|^lab|^lch/.test(backgroundColor)) return backgroundColor;
  }
  return "Canvas";
}

// One sheet for each paper: a sheet that only one root adopts lets a browser style all of them again.
const sheets = new Map();

/** The page's own paper, for the board that stays while the text scrolls under it (backgrounds are
 * not inherited), and how the page wants dark squares. */
export class Paper {
  #element;
  #internals;
  #found = null;
  #isAsking = false;

  constructor(element, internals) {
    this.#element = element;
    this.#internals = internals;
  }

  /** The sheet that names it. */
  get sheet() {
    const paper = this.#found;
    if (!sheets.has(paper)) {
      const sheet = new CSSStyleSheet();
      sheet.replaceSync(`:host { --paper-found: ${paper}; }`);
      sheets.set(paper, sheet);
    }
    return sheets.get(paper);
  }

  /** Looks for it again; true if it is another. */
  find() {
    const paper = findPaper(this.#element);
    findSquares(this.#element, this.#internals);
    const isOther = paper !== this.#found;
    this.#found = paper;
    return isOther;
  }

  /** The same after a step, when the answer needs no new styling. */
  async findSoon() {
    if (this.#isAsking) return false;
    this.#isAsking = true;
    await painted();
    this.#isAsking = false;
    return this.find();
  }
}

/** Whether an element has no room for a map beside its text: css/wide.css says the same. */
export function isNarrow(element) {
  const rem = parseFloat(getComputedStyle(page.documentElement).fontSize);
  const isLess = (width) => width < 46 * rem;
  // What is in a narrow window is narrow; to measure it would lay out the page.
  return isLess(innerWidth) || isLess(element.clientWidth);
}
