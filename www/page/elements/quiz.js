// <ply-quiz>: a question with a board of its own. It reads a lesson as <ply-line> does, its own or
// the one that `for` names, and asks at one of its positions.

import { allAround, page, Reading, reflect } from "plyline-shared";
import { ownNodes } from "../companions/baked.js";
import { followLink, lessonOf, lessonSoon, lostFor, startOf } from "../companions/lessons.js";

const ATTRIBUTES = ["src", "for", "at", "accept", "moves", "side"];

const isPre = ({ localName }) => localName === "pre";

/** A reading of a lesson that may be elsewhere in the page. */
export class LentReading extends Reading {
  #lender = null; // what was read of the lesson elsewhere, by a name of its own

  constructor(element, runtime) {
    super(element, runtime);
    element.addEventListener("click", (event) => followLink(event, lessonOf(element), runtime));
  }

  source() {
    return this.element.hasAttribute("src") ? undefined : this.#borrow();
  }

  // The text of the lesson that is meant; game 0 where there is none.
  async #borrow() {
    await this.runtime.parsed;
    const line = await lessonSoon(this.element);
    this.#lender = this.#of(line);
    return this.runtime.of(line)?.lent ?? { text: "", game: 0 };
  }

  lost() {
    return lostFor(this.element);
  }

  #of(line) {
    return Object.values(this.runtime.of(line)?.lent ?? {}).join();
  }

  /** A lesson has come late, or is read again. */
  heedLesson(line) {
    if (this.#lender !== null && lessonOf(this.element) === line && this.#lender !== this.#of(line)) this.start();
  }

  /** What the element holds beside notation, as text. */
  get prompt() {
    const asks = ownNodes(this.element).filter((node) => !isPre(node) && node.textContent.trim());
    return asks.map((node) => node.textContent).join(" ");
  }
}

class QuizReading extends LentReading {
  reads = ATTRIBUTES;

  given() {
    const { element, prompt } = this;
    const own = [...element.childNodes].some(isPre) ? "" : undefined;
    const seed = String(Math.floor(Math.random() * 1000));
    return { ...super.given(), own, seed, start: own ?? startOf(element), prompt };
  }

  get isMissing() {
    return this.element.state === null;
  }
}

/** The class of <ply-quiz>. */
export function makeQuiz(Board, runtime) {
  page?.addEventListener("ply-ready", (event) => {
    const [line] = event.composedPath();
    for (const element of allAround(line, "ply-quiz, ply-recall")) runtime.of(element)?.heedLesson(line);
  });

  return reflect(
    class PlyQuiz extends Board {
      static observedAttributes = [...ATTRIBUTES, "letters"];

      constructor() {
        super(QuizReading);
      }

      get state() {
        const waits = runtime.of(this).ask((mounted) => mounted.waits());
        return waits === undefined ? null : waits ? "open" : "settled";
      }
      answer(move) {
        return runtime.of(this).act((mounted) => mounted.answer(String(move))) || null;
      }
      hint() {
        return runtime.of(this).act((mounted) => mounted.ask("hint"));
      }
      show() {
        return runtime.of(this).act((mounted) => mounted.ask("show"));
      }
      again() {
        return runtime.of(this).act((mounted) => mounted.ask("again"));
      }
    },
  );
}
