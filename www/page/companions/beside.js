// The place of a lesson's board beside an article. Where the margin has room, the board is there from
// the first move that the article names to the end of the lesson, and the lesson's text is as
// wide as the article's. CSS cannot measure a margin outside the element, nor reach up to a
// paragraph before it; once both are known, the board is kept in sight by CSS alone.

import { page } from "plyline-shared";
import { paragraphOf } from "./dock.js";
import { lessonOf } from "./lessons.js";

// Pixels: the least and the greatest width of the column, the space between text and board, and
// that to the window's edge.
const [LEAST, GREATEST, GAP, EDGE] = [272, 452, 42, 16];
// The least width, in rem, of a lesson with its board beside the text: css/wide.css says the same.
const WIDE = 46;

export class Beside {
  /** The sheet that puts it there, if there is a place. */
  sheets = [];
  #line;
  #before;
  #found = "";

  /** @param before is called whenever the lesson may be about to be drawn */
  constructor(line, before) {
    this.#line = line;
    this.#before = before;
  }

  /** Finds the place again; true if it is another. `isAround` says that the article around it is about it. */
  find(isAround) {
    this.#before();
    const line = this.#line;
    const isNamed = () => [...page.querySelectorAll("ply-prose, ply-ref")].some((one) => lessonOf(one) === line);
    const rule = line.isConnected && (isAround || isNamed()) ? rules(line) : "";
    // A rule that says the same would style the whole lesson again.
    if (rule === this.#found) return false;
    this.#found = rule;
    this.sheets = [];
    if (rule) {
      const sheet = new CSSStyleSheet();
      sheet.replaceSync(rule);
      this.sheets = [sheet];
    }
    return true;
  }
}

const box = (element) => element.getBoundingClientRect();

function rules(line) {
  const least = WIDE * parseFloat(getComputedStyle(page.documentElement).fontSize);
  if (innerWidth < least) return ""; // without a layout of the page
  const isBefore = (element) => element.compareDocumentPosition(line) & Node.DOCUMENT_POSITION_FOLLOWING;
  const article = line.closest("article, main, body") ?? line.parentElement;
  const paragraph = [...article.querySelectorAll("p")].filter((p) => isBefore(p) && p.offsetWidth).at(-1);
  if (!paragraph) return "";
  let block = line.parentElement;
  while (/^(?:inline|contents)$/.test(getComputedStyle(block).display)) block = block.parentElement;
  const { display, direction, borderInlineStartWidth, paddingInlineStart } = getComputedStyle(block);
  if (/flex|grid/.test(display)) return "";

  // Along the line: from right to left everything is mirrored.
  const isMirrored = direction === "rtl";
  const start = ({ left, right }) => (isMirrored ? -right : left);
  const end = ({ left, right }) => (isMirrored ? -left : right);
  const [text, lesson] = [box(paragraph), box(line)];
  if (Math.abs(start(text) - start(lesson)) > 2) return "";
  let limit = (isMirrored ? 0 : page.documentElement.clientWidth) - EDGE;
  for (let at = block; at && at !== page.body; at = at.parentElement) {
    if (getComputedStyle(at).overflowX !== "visible") limit = Math.min(limit, end(box(at)));
  }
  const refs = article.querySelectorAll("ply-ref");
  const first = [...refs].find((ref) => isBefore(ref) && lessonOf(ref) === line);
  let top = first ? box(paragraphOf(first)).top : lesson.top;

  // What else is there: the board begins after what reaches into the margin, and ends before a column.
  const edge = end(text) + GAP / 2;
  for (const other of around(page.body, line)) {
    if (end(other) <= edge || other.bottom <= top || other.top >= lesson.bottom) continue;
    if (start(other) >= edge) limit = Math.min(limit, start(other) - GAP / 2);
    else if (other.bottom > lesson.top) return "";
    else top = Math.max(top, other.bottom + GAP / 2);
  }

  const room = limit - end(text) - GAP;
  if (room < LEAST) return "";
  const board = Math.min(room, Math.max(304, Math.min(GREATEST, innerWidth * 0.29)));
  const whole = text.width + GAP + board;
  if (whole < least) return "";
  const indent = start(text) - start(box(block)) - parseFloat(borderInlineStartWidth) - parseFloat(paddingInlineStart);
  return `@media screen{:host{box-sizing:border-box;inline-size:${whole}px!important;max-inline-size:none!important;margin-inline:${indent}px auto!important}.lesson{grid-template-columns:${text.width}px minmax(0,1fr);column-gap:${GAP}px}.margin{margin-block-start:${top - lesson.top}px}}`;
}

/** The boxes of all that shows something of its own around a lesson. */
function* around(parent, line) {
  for (const child of parent.children) {
    if (child === line) continue;
    const rect = box(child);
    const hasText = [...child.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && node.data.trim());
    const isWhole = child.shadowRoot || hasText || !child.childElementCount;
    if (child.contains(line) || !isWhole) yield* around(child, line);
    else if (rect.width && !/fixed|sticky/.test(getComputedStyle(child).position)) yield rect;
  }
}

/** Finds the places of all lessons, and again when the page changes its size. */
export function heedRoom(present) {
  let asked = 0;
  let size = "";
  const again = () => {
    cancelAnimationFrame(asked);
    asked = requestAnimationFrame(() => {
      observer.observe(page.body);
      present.forEach((one) => one.settle?.());
    });
  };
  // Not observed until the next frame: a page that changes its size while it is told of its size is
  // an error in WebKit's console. To be observed again tells the size again.
  const observer = new ResizeObserver(([{ contentRect }]) => {
    const found = `${contentRect.width} ${contentRect.height}`;
    if (found === size) return;
    size = found;
    observer.unobserve(page.body);
    again();
  });
  observer.observe(page.body);
  addEventListener("resize", again);
}
