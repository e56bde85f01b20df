// The class of <ply-diagram>: one still diagram, of a lesson's position or of any placement.

import { reflect } from "./reflect.js";

export function makeDiagram(Still) {
  return reflect(
    class PlyDiagram extends Still {
      static observedAttributes = ["for", "at", "fen", "side", "marks"];

      #watch = null;

      connectedCallback() {
        super.connectedCallback();
        // A <pre> or its text may arrive late, from a framework.
        this.#watch ??= new MutationObserver(() => Still.reread(this));
        this.#watch.observe(this, { childList: true, characterData: true, subtree: true });
      }

      disconnectedCallback() {
        super.disconnectedCallback();
        this.#watch.disconnect();
      }

      static asked(element) {
        const [fen, marks] = ["fen", "marks"].map((name) => element.getAttribute(name) ?? undefined);
        const isOfLesson = element.hasAttribute("for") || element.hasAttribute("at");
        const written = isOfLesson ? "" : (element.querySelector("pre")?.textContent ?? "");
        const placement = fen?.replaceAll(/\s+/g, " ") ?? (written.trim() && written);
        const placed = fen !== undefined || placement !== "";
        // Marks of its own stand in the place of the comment's, even where there are none.
        const text = marks === undefined ? placement : `${placement}\n${marks}`;
        return { placed, text };
      }
    },
  );
}
