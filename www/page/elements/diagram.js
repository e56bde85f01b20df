// <ply-diagram>: one still diagram, of a lesson's position or of any placement.

import { reflect } from "../reflect.js";
import { Companion } from "./companion.js";

class DiagramCompanion extends Companion {
  #watch = null;

  connected() {
    super.connected();
    // A <pre> or its text may arrive late, from a framework.
    this.#watch ??= new MutationObserver(() => this.reread());
    this.#watch.observe(this.element, { childList: true, characterData: true, subtree: true });
  }

  disconnected() {
    super.disconnected();
    this.#watch.disconnect();
  }

  asked() {
    const { element } = this;
    const [fen, marks] = ["fen", "marks"].map((name) => element.getAttribute(name) ?? undefined);
    const isOfLesson = element.hasAttribute("for") || element.hasAttribute("at");
    const written = isOfLesson ? "" : (element.querySelector("pre")?.textContent ?? "");
    const placement = fen?.replaceAll(/\s+/g, " ") ?? (written.trim() && written);
    const placed = fen !== undefined || placement !== "";
    // Marks of its own stand in the place of the comment's, even where there are none.
    const text = marks === undefined ? placement : `${placement}\n${marks}`;
    return { placed, text };
  }
}

/** The class of <ply-diagram>. */
export function makeDiagram(PlyCompanion) {
  return reflect(
    class PlyDiagram extends PlyCompanion {
      static observedAttributes = ["for", "at", "fen", "side", "marks"];

      constructor() {
        super(DiagramCompanion);
      }
    },
  );
}
