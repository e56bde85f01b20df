// What goes from the board and its field to the file: moves, edits, what was typed, and what takes it back.

import { Refused } from "./server.js";

export class Pen {
  #desk;
  #page;
  #entering = false;
  #changing = null; // the run whose last move the next one replaces

  constructor(desk, page) {
    [this.#desk, this.#page] = [desk, page];
  }

  /** Whether the next move takes the place of one that is there. */
  get isChanging() {
    return Boolean(this.#changing);
  }

  /** The reader has gone to a place. Moves beside the lesson enter it, or take another's place. */
  async moved({ moves, aside }) {
    if (this.#changing && moves.length === this.#changing.length) await this.#change(moves);
    else if (aside.length) await this.enterTried();
  }

  /** Moves that were played beside the lesson enter it. While one is written the next may be played. */
  async enterTried() {
    if (this.#entering) return;
    this.#entering = true;
    try {
      for (let last = ""; ; ) {
        const tried = this.#desk.element.current;
        if (!this.#desk.isWriting || !tried?.aside.length || tried.moves.join() === last) return;
        last = tried.moves.join();
        await this.keep(tried);
      }
    } finally {
      this.#entering = false;
    }
  }

  /** Moves beside the lesson, and those that lead there: they enter it. */
  keep({ moves, aside }) {
    return this.edit({ keep: { at: moves.slice(0, -aside.length), moves: aside } }, { stays: true });
  }

  /**
   * Makes an edit. `stays` keeps the reader where they are; `refused` may show a reason itself. What was done; nothing where
   * it was not.
   */
  async edit(edit, { stays = false, last = false, refused } = {}) {
    try {
      return await this.#took(await this.#desk.ask("edit", { edit }, { last }), stays);
    } catch (error) {
      if (!(await refused?.(error))) this.#desk.failed(error);
      return null;
    }
  }

  /** What was done is in the file. */
  async #took(done, stays) {
    await this.#page.take(done.page);
    const hasMoved = !stays && this.#desk.go(done.at);
    const unread = done.unread.length ? `; not read: ${done.unread.join(" ")}` : "";
    const prefers = done.prefers ? `; the lesson now prefers ${done.prefers}` : "";
    this.#desk.say(done.said + unread + prefers);
    if (!hasMoved) this.#desk.look(); // else that is asked by the move
    return done;
  }

  /** A piece of PGN or signs, for a position. The reason where it does not enter. */
  async enter(text, at = this.#desk.at) {
    if (this.#changing) return this.#enterChange(text);
    // Beside the move on the board: it is written before.
    if (text.startsWith("(") && at.length) [text, at] = [`${at.at(-1)} ${text}`, at.slice(0, -1)];
    try {
      const done = await this.#desk.ask("enter", { at, text });
      await this.#took(done, false);
      if (!done.stop) return null;
      // What comes before the first word that cannot be read has been entered.
      const stopped = new Refused({ code: "stopped", ...done.stop });
      this.#desk.failed(stopped);
      return stopped;
    } catch (error) {
      // Words that begin with none that could be a move: a question, which the lesson itself answers.
      if (/^[^\d\s]+(?:\s|\?$)/.test(text) && this.#desk.asks(text)) return null;
      this.#desk.failed(error);
      return error;
    }
  }

  async #enterChange(text) {
    const at = this.#changing;
    let reason = null;
    const done = await this.edit({ change: { at, moves: [text] } }, { refused: (error) => ((reason = error), false) });
    if (done) this.stopChange();
    return reason;
  }

  /** The next move takes no other's place. */
  stopChange() {
    if (!this.#changing) return;
    this.#changing = null;
    this.#desk.draw();
  }

  /** Takes back, makes again or puts back what was done. */
  async simple(what) {
    try {
      await this.#took(await this.#desk.ask(what), false);
      return true;
    } catch (error) {
      this.#desk.failed(error);
      return false;
    }
  }

  /** The next move takes the place of the last of these. */
  startChange(at) {
    this.#changing = at;
  }

  async #change(moves) {
    const at = this.#changing;
    this.#changing = null;
    if (moves.slice(0, -1).join() !== at.slice(0, -1).join()) return;
    await this.edit({ change: { at, moves: moves.slice(-1) } });
  }
}
