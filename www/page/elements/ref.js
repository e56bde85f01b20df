// <ply-ref>: a place of a lesson named in a sentence. Its link moves the lesson, and where the
// reader would not see that, a small board opens at the sentence.

import { addressOf, findPaper, page, reflect } from "plyline-shared";
import { Companion } from "./companion.js";
import { isPlain, lessonOf } from "./lessons.js";

// Milliseconds until an open board is announced, because a region that was hidden is not heard at
// once.
const CALM = 150;
// Pixels between the board and the sentence, and the edges of the page.
const GAP = 6;

let open = null; // the board that was opened last
let sentence = null; // the link that it was opened at
let lesson = null; // whose board it is

class RefCompanion extends Companion {
  #known = false; // a link made by the script needs no check
  #link = null;

  constructor(element, runtime) {
    super(element, runtime);
    element.addEventListener("click", (event) => this.#follow(event));
  }

  connected() {
    if (!this.#known) super.connected();
  }

  take = (line) => {
    const [findings, run] = this.lend((mounted) => mounted.refer(this.element.getAttribute("at") ?? "start")) ?? [];
    if (run !== undefined) this.#join(line, run);
    return findings;
  };

  // Without a link of the author's the content becomes one.
  #join(line, run) {
    const { element } = this;
    if (!this.#link && !element.querySelector("a")) {
      this.#link = page.createElement("a");
      this.#link.append(...element.childNodes);
      element.append(this.#link);
    }
    if (this.#link) this.#link.href = addressOf(line.id, run);
  }

  /** Replaces some words of an article. */
  replace(words, line, run) {
    const { element } = this;
    this.#known = true;
    element.htmlFor = line.id;
    element.at = run;
    const written = page.createElement("bdi");
    written.dir = "ltr";
    words.replaceWith(element);
    written.append(words);
    element.append(written);
    this.#join(line, run);
  }

  // Unless the reader opens it elsewhere. The focus stays where the reader reads.
  #follow(event) {
    const { element } = this;
    const link = event.target.closest("a");
    const line = link && element.contains(link) && isPlain(event) && lessonOf(element);
    if (!line || !this.runtime.of(line).enter(element.getAttribute("at") ?? "start", "reader")) return;
    event.preventDefault();
    if (!isSeen(line)) this.#open(line, link);
  }

  #open(line, link) {
    const root = this.dress();
    const said = this.lend((mounted) => mounted.small(root), line);
    open = root.querySelector("[popover]");
    if (!open?.showPopover) return open?.remove();
    open.style.background = `var(--ply-paper, ${findPaper(this.element)})`;
    // The focus in the closing board goes back to the sentence.
    open.onbeforetoggle = ({ newState }) => {
      if (newState === "closed" && root.activeElement) link.focus();
    };
    if (!open.matches(":popover-open")) open.showPopover();
    [sentence, lesson] = [link, line];
    place();
    const region = open.querySelector("[role=status]");
    setTimeout(() => (region.textContent = said), CALM);
  }
}

// Under the sentence, above it where there is no room.
function place() {
  if (!open?.matches(":popover-open")) return;
  const lines = sentence.getClientRects();
  const [first, last] = [lines[0], lines[lines.length - 1]];
  const { width, height } = open.getBoundingClientRect();
  const left = Math.max(GAP, Math.min(last.left, page.documentElement.clientWidth - width - GAP));
  const above = first.top - height - GAP;
  const top = last.bottom + GAP + height > innerHeight && above >= 0 ? above : last.bottom + GAP;
  open.style.left = `${left + scrollX}px`;
  open.style.top = `${top + scrollY}px`;
}

/** Whether the reader sees a lesson's board, or most of it. */
function isSeen(line) {
  const { top, bottom, height } = line.shadowRoot?.querySelector(".plate")?.getBoundingClientRect() ?? {};
  return height > 0 && top >= -height / 4 && bottom <= innerHeight + height / 4;
}

/** The class of <ply-ref>. */
export function makeRef(PlyCompanion) {
  if (page) addEventListener("resize", place);
  // What is shown at a sentence is what the lesson shows, or nothing.
  page?.addEventListener("ply-moved", (event) => {
    if (open?.isConnected && event.composedPath()[0] === lesson) open.hidePopover();
  });

  return reflect(
    class PlyRef extends PlyCompanion {
      static observedAttributes = ["for", "at"];

      constructor() {
        super(RefCompanion);
      }
    },
  );
}
