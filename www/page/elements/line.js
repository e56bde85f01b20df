// <ply-line>: a lesson. The page's address follows its reader, articles and references lead to its
// places, and its reader chooses among the games of its file.

import { moved, opened } from "../address.js";
import { reflect } from "../reflect.js";
import { Reading } from "./reading.js";

class LineReading extends Reading {
  #prose = []; // what was found in an article around it

  given() {
    return { ...super.given(), id: this.element.id || undefined };
  }

  heeds(name, value) {
    if (name === "side") this.act((mounted) => mounted.side(value ?? undefined));
    else if (value !== null) this.element.go(value);
  }

  opened() {
    opened(this);
  }

  moved(jump, changed) {
    moved(this, jump, changed);
  }

  get others() {
    return this.#prose;
  }

  take(target) {
    const game = target.closest("[data-game]")?.dataset.game;
    if (game && this.mounted) {
      this.choose(Number(game));
      this.root.querySelector(`[data-game="${game}"]`)?.focus();
    }
    return super.take(target);
  }

  /** Goes to the place of an address or a locator. False if it names none. */
  enter(run, by) {
    return this.act((mounted) => mounted.enter(run), by, by === "reader");
  }

  /** The run in the address of where the reader is, or was before the last move. */
  run(was) {
    return this.ask((mounted) => mounted.run(was));
  }

  /** Brings what it shows into sight. */
  reveal() {
    this.draw();
    this.ask((mounted) => mounted.reveal());
  }

  /** Reads a paragraph of an article about it; nothing where that cannot be done. */
  read(text, first) {
    return this.ask((mounted) => mounted.prose(text, first));
  }

  /** An article has been read; what was found in one around the lesson is found in it too. */
  note(findings, isAround) {
    if (isAround) this.#prose = findings;
    if (!this.isDebugged) return;
    if (isAround) findings.forEach(({ code, message }) => console.info(`plyline ${this.element.id}: ${code}: ${message}`));
    if (this.isDrawn && findings.length) this.draw(true);
  }
}

/** The class of <ply-line>. */
export function makeLine(Board) {
  return reflect(
    class PlyLine extends Board {
      static observedAttributes = ["at", "side", "src"];

      constructor() {
        super(LineReading);
      }
    },
  );
}
