// The class of <ply-quiz>: a question with a board of its own. It reads a lesson as <ply-line>
// does, its own or the one that `for` names, and asks at one of its positions.

import { reflect, written } from "./reflect.js";
import { followLink, lessonOf, lessonSoon, startOf } from "./still.js";

/**
 * @param Line the class of <ply-line>
 * @param parsed a promise: the page is parsed and its fences are elements
 */
export function makeQuiz(Line, parsed) {
  const attributes = ["src", "for", "at", "accept", "moves", "side"];

  class PlyQuiz extends Line {
    static observedAttributes = attributes;

    static get reads() {
      return attributes;
    }

    static source(element) {
      return element.hasAttribute("src") ? undefined : borrow(element);
    }

    static given(element) {
      const own = [...element.childNodes].some(isPre) ? "" : undefined;
      const seed = String(Math.floor(Math.random() * 1000));
      return { ...written(element), own, seed, start: own ?? startOf(element), prompt: promptOf(element) };
    }

    static isMissing(element) {
      return element.state === null;
    }

    constructor() {
      super();
      this.addEventListener("click", (event) => followLink(event, Line, lessonOf(this)));
    }

    get state() {
      const waits = Line.ask(this, (mounted) => mounted.waits());
      return waits === undefined ? null : waits ? "open" : "settled";
    }
    answer(move) {
      return Line.act(this, (mounted) => mounted.answer(String(move))) || null;
    }
    hint() {
      return Line.act(this, (mounted) => mounted.ask("hint"));
    }
    show() {
      return Line.act(this, (mounted) => mounted.ask("show"));
    }
    again() {
      return Line.act(this, (mounted) => mounted.ask("again"));
    }
  }
  // What the questions of a lesson elsewhere have read of it.
  const lent = new WeakMap();
  const of = (line) => line && Object.values(Line.lends(line) ?? {}).join();

  // The lesson comes late, or is read anew.
  globalThis.document?.addEventListener("ply-ready", (event) => {
    const [line] = event.composedPath();
    for (const quiz of line.getRootNode().querySelectorAll("ply-quiz, ply-recall")) {
      if (lent.has(quiz) && lessonOf(quiz) === line && lent.get(quiz) !== of(line)) Line.restart(quiz);
    }
  });

  // The text of the lesson that is meant; game 0 where there is none.
  async function borrow(element) {
    await parsed;
    const line = await lessonSoon(element);
    lent.set(element, of(line));
    return (line && Line.lends(line)) || { text: "", game: 0 };
  }

  return reflect(PlyQuiz);
}

const isPre = ({ localName }) => localName === "pre";

/** What an element holds beside notation, as text. */
export function promptOf({ childNodes }) {
  const asks = [...childNodes].filter((node) => !isPre(node) && node.nodeType !== 8 && node.textContent.trim());
  return asks.map((node) => node.textContent).join(" ");
}
