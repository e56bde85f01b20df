// The class of <ply-ref>: a place of a lesson named in a sentence. Its link moves the lesson, and
// where the reader would not see that, a small board opens at the sentence.

import { addressOf } from "./address.js";
import { findPaper } from "./squares.js";
import { reflect } from "./reflect.js";
import { isPlain } from "./still.js";

// Milliseconds until an open board is spoken of, for a region that was hidden is not heard at once.
const CALM = 150;
// Pixels between the board and the sentence, and the edges of the page.
const GAP = 6;

export function makeRef(Line, Still) {
  let open = null; // the board that was opened last
  let sentence = null; // the link that it was opened at
  let lesson = null; // whose board it is

  class PlyRef extends Still {
    static observedAttributes = ["for", "at"];

    #known = false; // what the script made needs no check
    #link = null;

    constructor() {
      super();
      this.addEventListener("click", (event) => this.#follow(event));
    }

    connectedCallback() {
      if (!this.#known) super.connectedCallback();
    }

    static take(element, line) {
      const [findings, run] = Still.lend(element, (mounted) => mounted.refer(element.getAttribute("at") ?? "start")) ?? [];
      if (run !== undefined) element.#join(line, run);
      return findings;
    }

    // Without a link of the author's the content becomes one.
    #join(line, run) {
      if (!this.#link && !this.querySelector("a")) {
        this.#link = document.createElement("a");
        this.#link.append(...this.childNodes);
        this.append(this.#link);
      }
      if (this.#link) this.#link.href = addressOf(line.id, run);
    }

    /** A reference in the place of some words of an article. */
    static replace(words, line, run) {
      const element = document.createElement("ply-ref");
      element.#known = true;
      element.htmlFor = line.id;
      element.at = run;
      const written = document.createElement("bdi");
      written.dir = "ltr";
      words.replaceWith(element);
      written.append(words);
      element.append(written);
      element.#join(line, run);
    }

    // Unless the reader wants it elsewhere. The focus stays where the reader reads.
    #follow(event) {
      const link = event.target.closest("a");
      const line = link && this.contains(link) && isPlain(event) && Still.find(this);
      if (!line || !Line.enter(line, this.getAttribute("at") ?? "start", "reader")) return;
      event.preventDefault();
      if (!isSeen(line)) this.#open(line, link);
    }

    #open(line, link) {
      const root = Still.dress(this);
      const said = Still.lend(this, (mounted) => mounted.small(root), line);
      open = root.querySelector("[popover]");
      if (!open?.showPopover) return open?.remove();
      open.style.background = `var(--ply-paper, ${findPaper(this)})`;
      // The focus that would go with the board goes back to the sentence.
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
    const left = Math.max(GAP, Math.min(last.left, document.documentElement.clientWidth - width - GAP));
    const above = first.top - height - GAP;
    const top = last.bottom + GAP + height > innerHeight && above >= 0 ? above : last.bottom + GAP;
    open.style.left = `${left + scrollX}px`;
    open.style.top = `${top + scrollY}px`;
  }
  if (globalThis.document) addEventListener("resize", place);

  // What is shown at a sentence is what the lesson shows, or nothing.
  globalThis.document?.addEventListener("ply-moved", (event) => {
    if (open?.isConnected && event.composedPath()[0] === lesson) open.hidePopover();
  });

  return reflect(PlyRef);
}

/** Whether the reader sees a lesson's board, or most of it. */
function isSeen(line) {
  const { top, bottom, height } = line.shadowRoot?.querySelector(".plate")?.getBoundingClientRect() ?? {};
  return height > 0 && top >= -height / 4 && bottom <= innerHeight + height / 4;
}
