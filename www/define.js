// What both forms of the script share: defines the elements once and offers the functions.

import { makeDiagram } from "./diagram.js";
import { makeLine } from "./element.js";
import { nameLessons, upgradeFences } from "./fences.js";
import { makeQuiz } from "./quiz.js";
import { makeRecall } from "./recall.js";
import { makeProse } from "./prose.js";
import { makeRecap } from "./recap.js";
import { makeRef } from "./ref.js";
import { makeStill } from "./still.js";
import { whenParsed } from "./turns.js";

/**
 * @param load returns a promise of the core: { mount, readLesson, reset }
 * @param css the text of plyline.css
 */
export function makePlyline(load, css, version) {
  let core = null;
  let style = null;
  const ready = () => (core ??= load());
  const sheet = () => {
    if (!style) {
      style = new CSSStyleSheet();
      style.replaceSync(css);
    }
    return style;
  };

  /** Defines the elements; a second copy of the script, or a second call, does nothing. */
  function define() {
    if (!globalThis.customElements || customElements.get("ply-line")) return;
    // A failed load is tried again by the next element that asks.
    const loadOnce = () => ready().catch((error) => { core = null; throw error; });
    const Line = makeLine(loadOnce, sheet);
    customElements.define("ply-line", Line);
    const parsed = whenParsed().then(() => {
      upgradeFences(document);
      nameLessons(document);
    });
    const Quiz = makeQuiz(Line, parsed);
    customElements.define("ply-quiz", Quiz);
    customElements.define("ply-recall", makeRecall(Line, Quiz));
    const Still = makeStill(Line, sheet, parsed);
    customElements.define("ply-diagram", makeDiagram(Still));
    customElements.define("ply-recap", makeRecap(Still));
    const Ref = makeRef(Line, Still);
    customElements.define("ply-ref", Ref);
    customElements.define("ply-prose", makeProse(Line, Still, Ref));
  }

  /** Reads a text: a promise of { lesson, findings }; `lesson` is null where there is no game. */
  async function readLesson(text, { game = 1 } = {}) {
    return (await ready()).readLesson(String(text), game);
  }

  return { readLesson, define, ready: async () => void (await ready()), version };
}
