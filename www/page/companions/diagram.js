// <ply-diagram>: one still diagram, of a lesson's position or of any placement.

import { reflect, written } from "plyline-shared";
import { BAKED, ownNodes } from "./baked.js";
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
    const text = element.querySelector(`pre:not(${BAKED} *)`)?.textContent;
    // Words beside it are the caption.
    const own = ownNodes(element).map(({ textContent }) => textContent);
    const worded = own.join("").trim() === (text ?? "").trim() ? undefined : "yes";
    // Then it waits for no lesson. The core decides what it shows.
    const isOfLesson = element.hasAttribute("for") || element.hasAttribute("at");
    const placed = element.hasAttribute("fen") || Boolean(!isOfLesson && text?.trim());
    return { placed, given: { ...written(element), written: text, worded } };
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
