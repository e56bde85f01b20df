// What <ply-line>, <ply-quiz> and <ply-recall> offer a page and its scripts: an element with a
// board of its own, on which a reader moves through a lesson. What it does is reading.js.

import { makeHeld } from "./held.js";

/** The class that they extend; each hands it the class of its own reading. */
export function makeBoard(runtime) {
  const of = (element) => runtime.of(element);

  return class PlyBoard extends makeHeld(runtime) {
    get text() {
      return of(this).text;
    }
    set text(text) {
      of(this).text = text;
    }
    get lesson() {
      return of(this).lesson;
    }
    get current() {
      return of(this).current;
    }
    get made() {
      return of(this).made;
    }

    go(place) {
      return of(this).act((mounted) => mounted.go(place));
    }
    next(choice) {
      return of(this).act((mounted) => mounted.next(choice));
    }
    back() {
      return of(this).act((mounted) => mounted.ask("back"));
    }
    flip() {
      return of(this).act((mounted) => mounted.ask("turn"));
    }
    play(move) {
      return of(this).act((mounted) => mounted.play(String(move)));
    }
  };
}
