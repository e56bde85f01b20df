// The class of <ply-diagram>: one still diagram, of a lesson's position or of any placement.

import { reflect } from "./still.js";

export function makeDiagram(Still) {
  return reflect(
    class PlyDiagram extends Still {
      static observedAttributes = ["for", "at", "fen", "side", "marks"];
      static kind = "diagram";

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
        const [at, fen, marks] = ["at", "fen", "marks"].map((name) => element.getAttribute(name) ?? undefined);
        const isOfLesson = element.hasAttribute("for") || at !== undefined;
        const written = isOfLesson ? "" : (element.querySelector("pre")?.textContent ?? "");
        const placement = fen?.replaceAll(/\s+/g, " ") ?? (written.trim() ? written : undefined);
        const text = placement === undefined ? undefined : `${placement}\n${marks ?? ""}`;
        return { at: at || undefined, marks, text };
      }
    },
  );
}
