// What both forms of the script share: defines the elements once and offers the functions.

import { heedAddress } from "./address.js";
import { page } from "./document.js";
import { makeBoard } from "./elements/board.js";
import { makeCompanion } from "./elements/companion.js";
import { makeDiagram } from "./elements/diagram.js";
import { nameLessons, upgradeFences } from "./elements/fences.js";
import { makeLine } from "./elements/line.js";
import { makeProse } from "./elements/prose.js";
import { makeQuiz } from "./elements/quiz.js";
import { makeRecall } from "./elements/recall.js";
import { makeRecap } from "./elements/recap.js";
import { makeRef } from "./elements/ref.js";
import { Runtime } from "./runtime.js";
import { whenParsed } from "./turns.js";

/**
 * @param load returns a promise of the core: { mount, readLesson, reset }
 * @param css the text of css/plyline.css
 */
export function makePlyline(load, css, version) {
  const runtime = new Runtime(load, css);

  /** Defines the elements; a second copy of the script, or a second call, does nothing. */
  function define() {
    if (!globalThis.customElements || customElements.get("ply-line")) return;
    runtime.heed();
    heedAddress(runtime);
    const Board = makeBoard(runtime);
    customElements.define("ply-line", makeLine(Board));
    runtime.parsed = whenParsed().then(() => {
      upgradeFences(page);
      nameLessons(page);
    });
    customElements.define("ply-quiz", makeQuiz(Board, runtime));
    customElements.define("ply-recall", makeRecall(Board, runtime));
    const Companion = makeCompanion(runtime);
    customElements.define("ply-diagram", makeDiagram(Companion));
    customElements.define("ply-recap", makeRecap(Companion));
    customElements.define("ply-ref", makeRef(Companion));
    customElements.define("ply-prose", makeProse(Companion, runtime));
  }

  /** Reads a text: a promise of { lesson, findings }; `lesson` is null if there is no game. */
  const readLesson = async (text, { game = 1 } = {}) => runtime.readLesson(String(text), game);

  return { readLesson, define, ready: () => runtime.load(), version };
}
