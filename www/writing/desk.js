// What an author has at the board of one lesson: the word `write`, and while it is on the field, the words and what they open. Moves
// played on the board enter the file; everything that changes it goes through `edit`.

import { CommentField } from "./comment.js";
import { Field } from "./field.js";
import { Kept } from "./kept.js";
import { count, el, numbered, redraw, word } from "./parts.js";
import { Pen } from "./pen.js";
import { Refused } from "./server.js";
import { signs } from "./signs.js";
import { after, besideOf, nearest, nodeOf, unfinished } from "./walk.js";

export class Desk {
  element;
  number; // of the lesson in its file, from 0
  kept;
  pen;
  #page;
  #lesson; // as the program knows it
  #place = null; // what the program knows of the position on the board
  #comment = null;
  #root;
  #state = el("div", { class: "state" });
  #words = el("div", { class: "words", role: "group", "aria-label": "Words while writing" });
  #open = el("div", { class: "open" });
  #saidAt = ""; // the place of what is said
  #board; // the width that the author gives the board
  #said = el("div", { class: "said", role: "status" });
  #below = el("div", { class: "below" });
  #field;
  isWriting = false;

  constructor(element, lesson, page) {
    [this.element, this.number, this.#lesson, this.#page] = [element, lesson.number, lesson, page];
    this.kept = new Kept(page.path, lesson.number);
    this.pen = new Pen(this, page);
    this.#board = element.style.getPropertyValue("--ply-board");
    this.#field = new Field(this);
    const host = el("div", { slot: "writing", "data-plyline": "writing" });
    this.#root = host.attachShadow({ mode: "open" });
    const sheet = el("link", { rel: "stylesheet", href: "/.plyline/writing/writing.css" });
    this.#root.append(sheet, el("div", { class: "desk" }, this.#state, this.#field.view, this.#said, this.#words, this.#open, this.#below));
    // The lesson has keys and clicks of its own.
    for (const type of ["keydown", "click", "pointerdown"]) host.addEventListener(type, (event) => event.stopPropagation());
    element.append(host);
    element.addEventListener("ply-moved", () => this.#moved());
    element.addEventListener("keydown", (event) => this.#key(event), true);
    for (const type of ["pointerdown", "mousedown", "click"]) element.addEventListener(type, (event) => this.#pressed(event), true);
    this.#begin();
  }

  async #begin() {
    const isEmpty = !this.element.lesson?.node(0).children.length;
    const run = this.kept.get("at");
    if (run && (this.kept.get("writing") || this.kept.get("again"))) this.go(run);
    this.kept.set("again", null);
    if (this.#lesson.writable && (this.kept.get("writing") ?? isEmpty)) await this.#write(true);
    else this.draw();
    const draft = this.kept.get("draft");
    if (!draft || !this.#lesson.writable) return;
    if (!this.isWriting) await this.#write(true);
    this.go(draft.at);
    // They may have been written as the page was left.
    const place = await this.ask("place", { at: draft.at }).catch(() => null);
    const now = place?.comments[draft.nth] ?? "";
    const isWritten = now.trim() === draft.text.trim();
    this.#shows(new CommentField(this, isWritten ? { ...draft, was: now } : draft, this.#name(draft.at), draft.text));
    if (!isWritten) this.say("these words were not written yet");
  }

  /** Asks the program for something about this lesson. */
  ask(what, given = {}, more) {
    return this.#page.ask(what, { lesson: this.number, ...given }, more);
  }

  /** Moves the focus to the field. */
  focus() {
    this.#field.focus();
  }

  // The place.

  /** The moves from the start to the board. */
  get at() {
    return this.element.current?.moves ?? [];
  }

  /** True when that changed something. */
  go(moves) {
    const { lesson } = this.element;
    return Boolean(lesson) && this.element.go(nodeOf(lesson, moves));
  }

  #name(moves) {
    return moves.length ? numbered(moves.slice(-1), this.element.lesson.start, moves.length - 1) : "";
  }

  async #moved() {
    const { current } = this.element;
    if (!current) return;
    if (this.isWriting) {
      this.kept.set("at", current.moves);
      await this.pen.moved(current);
      if (this.#comment && !this.#comment.isPointing) await this.#comment.close();
    }
    this.#field.calm();
    // What is open was about another move, and so was a reason.
    if (this.#open.querySelector(".signs")) this.#open.replaceChildren();
    if (this.#said.classList.contains("refused") || this.at.join() !== this.#saidAt) this.say("");
    this.draw();
    this.look();
  }

  /** Asks what stands at the position on the board. */
  async look() {
    if (!this.isWriting || this.element.current?.aside.length) return;
    const at = this.at;
    const place = await this.ask("place", { at }).catch(() => null);
    if (at.join() !== this.at.join()) return;
    this.#place = place;
    this.draw();
  }

  /** Puts a question to the lesson itself; false where it has no field for it. */
  asks(text) {
    const root = this.element.shadowRoot;
    if (!root.querySelector(".typed")) root.querySelector('[data-do="desk"]')?.click();
    const field = root.querySelector(".typed");
    if (!field) return false;
    field.value = text;
    root.querySelector('[data-do="enter"]').click();
    this.#field.focus();
    return true;
  }

  /** The program has read the file again. */
  renewed(lesson) {
    this.#lesson = lesson;
    this.draw();
  }

  // What is said.

  say(text) {
    this.#saidAt = this.at.join();
    this.#said.classList.remove("refused");
    this.#said.textContent = text;
  }

  failed(error) {
    if (!error.help && !(error instanceof Refused)) console.error(error);
    this.#said.classList.add("refused");
    this.#said.textContent = [error.message, error.help].filter(Boolean).join(": ");
    if (this.element.current?.aside.length) this.draw();
  }

  // Words.

  async #write(on) {
    if (on && !this.#lesson.writable) return this.say(this.#lesson.why ?? "this lesson cannot be written here");
    if (!on && this.#comment && !(await this.#comment.close())) return;
    this.isWriting = on;
    // The board leaves room for the field below it in windows that are not high.
    this.element.style.setProperty("--ply-board", on ? "max(204px, 100svh - 28rem)" : this.#board);
    this.pen.stopChange();
    this.kept.set("writing", on);
    if (on) this.element.shadowRoot?.querySelector('[data-do="open"]')?.click();
    this.#open.replaceChildren();
    this.draw();
    this.look();
    if (on && this.element.current?.aside.length) await this.pen.enterTried();
  }

  /** Does what a word says: true when it was one, false when it was one and could not be done, nothing for anything else. */
  async obey(text) {
    const [, name, rest = ""] = /^([a-z]+)(?:\s+(.*))?$/.exec(text) ?? [];
    const { element } = this;
    const goes = (locator) => {
      const node = element.lesson.find(locator) ?? nearest(element.lesson, locator, element.current.node);
      if (node === null) return this.say(`there is no such place: ${text}`), false;
      element.go(node);
      return true;
    };
    const plain = rest ? undefined : this.#does[name];
    if (plain) return (await plain.call(this)) !== false;
    if (name === "back" && /^\d*$/.test(rest)) {
      for (let steps = Number(rest || 1); steps > 0 && element.back(); steps -= 1);
      return true;
    }
    if (text === "(") return element.back() || (this.say("there is no move before this one"), false);
    if (text === ")") return element.go(besideOf(element.lesson, element.current.node)) || (this.say("this is the main line"), false);
    if (name === "go") return goes(rest);
    if (name === "line") return goes(text);
    return undefined;
  }

  #does = {
    write: () => this.#write(!this.isWriting).then(() => this.isWriting && this.#field.view.scrollIntoView({ block: "nearest" })),
    keep: () => this.#keepTried(),
    comment: () => this.openComment(),
    choose: () => this.openComment("Choose: "),
    question: () => this.openComment("Ask: "),
    sign: () => this.#sign(),
    change: () => this.#startChange(),
    lift: () => this.#onMove("lift"),
    drop: () => this.#onMove("drop"),
    undo: () => this.#back("undo"),
    redo: () => this.#back("redo"),
    restore: () => this.#back("restore"),
    unfinished: () => this.#unfinished(),
    next: () => void this.element.next(),
    start: () => void this.element.go(0),
    flip: () => void this.element.flip(),
    point: () => (this.#comment ? this.#comment.setPointing(true) : this.say("point belongs to a comment: open one first")),
  };

  async #back(what) {
    if (this.#comment && !(await this.#comment.close())) return false;
    return this.pen.simple(what);
  }

  async #keepTried() {
    const { current } = this.element;
    if (!current.aside.length) return this.say("these moves are in the lesson");
    await this.pen.keep(current);
  }

  async #onMove(what) {
    const at = this.at;
    if (!at.length) return this.say(`${what} is about a move: go to one first`);
    await this.pen.edit({ [what]: { at } });
  }

  #startChange() {
    const at = this.at;
    if (!at.length) return this.say("change is about a move: go to one first");
    this.element.back();
    this.pen.startChange(at);
    this.draw();
    this.say(`the next move takes the place of ${this.#name(at)}`);
  }

  #sign() {
    const at = this.at;
    if (!at.length) return this.say("a sign is about a move: go to one first");
    if (this.#open.querySelector(".signs")) return this.#open.replaceChildren();
    const show = () => this.#open.replaceChildren(signs(this.#place?.nags ?? [], choose));
    const choose = async (nags) => {
      const pressed = this.#root.activeElement?.title;
      const done = await this.pen.edit({ sign: { at, nags } });
      if (!done) return;
      this.#place = { ...this.#place, nags };
      show();
      [...this.#open.querySelectorAll("button")].find((it) => it.title === pressed)?.focus();
    };
    show();
  }

  #unfinished() {
    const { element } = this;
    const end = unfinished(element.lesson, element.side ?? element.lesson.tags.Side ?? "white", element.current.node);
    if (!end) return this.say("every line ends with a word, and every move of the other side has a reply");
    element.go(end.id);
    this.say(end.why);
  }

  // Comments.

  /**
   * Opens a comment of the position on the board, the first after the move unless another is wished, with words added to it.
   */
  async openComment(begun = "", wanted) {
    if (this.#comment) return this.#comment.focus();
    const at = this.at;
    const place = await this.ask("place", { at }).catch((error) => this.failed(error));
    if (!place) return;
    const { comments, before } = place;
    const nth = wanted ?? before;
    const was = comments[nth] ?? "";
    const text = was && begun ? `${was.trimEnd()}\n\n${begun}` : was || begun;
    this.#shows(new CommentField(this, { at, nth, was, of: Math.max(comments.length, nth + 1) }, this.#name(at), text));
  }

  #shows(comment) {
    this.#comment = comment;
    this.#open.replaceChildren(comment.view);
    comment.focus();
    this.draw();
  }

  closeComment(comment) {
    if (this.#comment !== comment) return;
    const had = this.#root.activeElement?.closest(".comment");
    this.#comment = null;
    this.kept.set("draft", null);
    comment.view.remove();
    if (had) this.#field.focus();
    this.draw();
  }

  /** The page is hidden or left: what is written is saved. */
  leave() {
    this.#comment?.save(true);
  }

  /** The page is loaded again: it begins where it is now. */
  part() {
    this.leave();
    this.kept.set("at", this.at);
    this.kept.set("again", true);
  }

  // The board.

  #key(event) {
    if (!this.isWriting || event.ctrlKey || event.metaKey || event.altKey || event.key.length !== 1 || event.key === " ") return;
    const [target] = event.composedPath();
    if (target.closest("input, textarea, [slot=writing]") || this.#root.contains(target)) return;
    event.preventDefault();
    event.stopPropagation();
    this.#field.type(event.key);
  }

  // While squares are pointed at, the board is for that alone.
  #pressed(event) {
    if (!this.#comment?.isPointing) return;
    const square = event.composedPath()[0].dataset?.square;
    if (!square) return;
    event.preventDefault();
    event.stopPropagation();
    if (event.type === "click") this.#comment.square(square);
  }

  /** Draws what has changed. */
  draw() {
    const { current, lesson } = this.element;
    if (!current || !lesson) return;
    const { isWriting } = this;
    const isAside = current.aside.length > 0;
    const how = isWriting ? el("span", {}, this.pen.isChanging ? "writing: the next move takes its place" : `writing: ${this.#where(current)}`) : null;
    const keep = isAside && !isWriting && this.#lesson.writable ? word("keep", () => this.#keepTried()) : null;
    const why = this.#lesson.writable ? null : el("span", { class: "why" }, `read only: ${this.#lesson.why}`);
    redraw(this.#state, [word("write", () => this.#write(!isWriting), { pressed: isWriting }), keep, how, why]);
    this.#field.view.hidden = !isWriting;
    this.#words.hidden = !isWriting;
    this.#below.hidden = !isWriting;
    if (!isWriting) return this.#drawBelow(current);
    const does = (name, more = "") => word(name + more, () => this.#does[name]());
    const { undo, redo, lost } = this.#lesson;
    const hasMove = current.moves.length > 0 && !isAside;
    const dropped = hasMove ? 1 + after(lesson, current.node) : 0;
    const words = [
      does("comment"),
      hasMove && does("sign"),
      hasMove && does("choose"),
      does("question"),
      hasMove && does("change"),
      hasMove && this.#place?.lifts && does("lift"),
      hasMove && does("drop", ` ${count(dropped, "move")}`),
      does("unfinished"),
      undo && does("undo", `: ${undo}`),
      redo && does("redo", `: ${redo}`),
      lost > 0 && does("restore", ` ${count(lost, "edit")} that another program has saved over`),
    ];
    redraw(this.#words, words.filter(Boolean));
    this.#drawBelow(current);
  }

  #where({ moves, line, aside }) {
    if (aside.length) return `${this.#name(moves)}, not in the file yet`;
    if (!moves.length) return "the start";
    return `after ${this.#name(moves)}${line ? `, line ${line}` : ""}`;
  }

  // The same position elsewhere, and what the checker says of this one.
  #drawBelow({ moves }) {
    const below = [];
    for (const { at, name, said } of (this.isWriting && this.#place?.same) || []) {
      const say = () => this.pen.edit({ comment: { at: moves, nth: this.#place.comments.length, was: "", text: said } });
      below.push(el("div", { class: "same" }, `The same position: ${name} `, word("go there", () => this.go(at)), " ", said ? word("say so", say) : null));
    }
    below.push(...this.#page.findingsAt(this.number, moves));
    this.#below.hidden = !below.length;
    redraw(this.#below, below, true);
  }
}
