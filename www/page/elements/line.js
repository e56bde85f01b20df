// <ply-line>: a lesson. The page's address follows its reader, articles and references lead to its
// places, and its reader chooses among the games of its file.

import { addressOf, moved, opened } from "../address.js";
import { reflect } from "../reflect.js";
import { copy } from "../source.js";
import { Reading } from "./reading.js";

class LineReading extends Reading {
  #prose = []; // what was found in an article around it
  #beside; // the board's place beside an article; none before there are elements for articles
  #paragraph; // that of the link which moves it

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
    moved(this, jump, changed, this.#paragraph);
  }

  get sheets() {
    return this.#beside?.sheets ?? [];
  }

  /** Finds the board's place beside an article; true if it has one. */
  settle() {
    this.#beside ??= this.runtime.articles?.beside(this.element);
    if (this.#beside?.find(this.lesson?.tags.Prose === "yes")) {
      this.wear();
      // It was at the window's edge as long as it had no other place.
      if (this.sheets.length) this.runtime.articles.settle();
    }
    return this.sheets.length > 0;
  }

  get others() {
    return this.#prose;
  }

  takes(what) {
    if (what === "link") this.#copyLink();
    else if (what === "leave" || what === "text") this.runtime.articles?.comeBack();
    else return false;
    if (what === "text") {
      this.reveal();
      this.root.querySelector(".move[aria-current]")?.focus({ preventScroll: true });
    }
    return true;
  }

  async #copyLink() {
    const link = new URL(addressOf(this.element.id, this.run()), location.href).href;
    const done = await copy(link);
    this.act((mounted) => (done ? mounted.ask("copied") : mounted.ask("lost", link)));
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
  enter(run, by, paragraph) {
    this.#paragraph = paragraph;
    const entered = this.act((mounted) => mounted.enter(run), by, by === "reader");
    this.#paragraph = undefined;
    return entered;
  }

  /** Says that an address names none by this run. */
  miss(run) {
    this.act((mounted) => mounted.ask("nowhere", run));
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
    if (this.settle()) this.draw(); // it is beside the article, which may be in view before its lesson
    if (!this.isDebugged) return;
    if (isAround) findings.forEach(({ code, message }) => console.info(`plyline ${this.element.id}: ${code}: ${message}`));
    if (this.isDrawn && findings.length) this.draw(true);
  }
}

/** The class of <ply-line>. */
export function makeLine(Board) {
  return reflect(
    class PlyLine extends Board {
      static observedAttributes = ["at", "side", "src", "letters"];

      constructor() {
        super(LineReading);
      }
    },
  );
}
