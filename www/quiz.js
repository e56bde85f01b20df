// The class of <ply-quiz>: a question with a board of its own. It reads a lesson as <ply-line>
// does, its own or the one that `for` names, and asks at one of its positions.

import { reflect } from "./reflect.js";
import { lessonOf } from "./still.js";
import { whenParsed } from "./turns.js";

// Milliseconds that a lesson may come late in.
const PATIENCE = 1000;

/** @param Line the class of <ply-line> */
export function makeQuiz(Line) {
  const attributes = ["src", "for", "at", "accept", "moves", "side"];

  class PlyQuiz extends Line {
    static observedAttributes = attributes;

    static get reads() {
      return attributes;
    }

    static source(element) {
      return borrow(Line, element);
    }

    static asks(element) {
      return {
        quiz: true,
        own: [...element.childNodes].some(isPre),
        prompted: isPrompted(element),
        accept: element.getAttribute("accept"),
        moves: element.getAttribute("moves"),
        seed: Math.floor(Math.random() * 1000),
      };
    }

    static isMissing(element) {
      return element.state === null;
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

  return reflect(PlyQuiz);
}

const isPre = ({ localName }) => localName === "pre";

/** Whether an element holds more than notation. */
export function isPrompted({ childNodes }) {
  return [...childNodes].some((node) => !isPre(node) && node.nodeType !== 8 && node.textContent.trim());
}

/** The text of the lesson that is meant: a promise, of null where there is none. Nothing where the
 * element names a file. */
export function borrow(Line, element) {
  return element.hasAttribute("src") ? undefined : find(Line, element);
}

async function find(Line, element) {
  await whenParsed(); // and its fences are elements
  const end = performance.now() + PATIENCE;
  while (!lessonOf(element) && performance.now() < end) await new Promise((done) => setTimeout(done, 50));
  const line = lessonOf(element);
  await line?.ready;
  return line ? Line.lends(line) : null;
}
