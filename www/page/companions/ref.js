// <ply-ref>: a place of a lesson named in a sentence. Its link moves the lesson, whose board is then
// in sight (dock.js).

import { addressOf, page, reflect } from "plyline-shared";
import { BAKED } from "./baked.js";
import { Companion } from "./companion.js";
import { heedDock, keepSeen, paragraphOf } from "./dock.js";
import { isPlain, lessonOf } from "./lessons.js";

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

  // Without a link of the author's the content becomes one; a baked one is ours.
  #join(line, run) {
    const { element } = this;
    this.#link ??= element.querySelector(`a${BAKED}`);
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
    if (!line) return;
    const reading = this.runtime.of(line);
    if (!reading.enter(element.getAttribute("at") ?? "start", "reader", paragraphOf(link))) return;
    event.preventDefault();
    keepSeen(reading, link);
  }
}

/** The class of <ply-ref>. */
export function makeRef(PlyCompanion) {
  if (page) heedDock();

  return reflect(
    class PlyRef extends PlyCompanion {
      static observedAttributes = ["for", "at"];

      constructor() {
        super(RefCompanion);
      }
    },
  );
}
