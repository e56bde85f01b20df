// A comment while it is written: its words as they are in the file. They are written there after a rest, on leaving and when the
// page is hidden, and kept in the tab meanwhile, so that a reload loses none.

import { el, word } from "./parts.js";

// Milliseconds without a key after which the words are written.
const REST = 2000;

export class CommentField {
  #desk;
  #at;
  #nth;
  #was; // what the file has, as far as is known
  #rest;
  #saving = Promise.resolve();
  #field;
  #ours = new Set(); // what this tab has sent, perhaps as it was left
  #other = el("div", { class: "other" });
  #last = null; // the mark that was put in last: { from, to, squares, kind }
  isPointing = false;
  view;

  /**
   * @param desk the lesson's desk
   * @param place { at, nth, was, of }: the position, which of its comments, its words, and how many comments there are
   * @param name how the move is called, such as "6.Be3"
   * @param text the words to begin with, where they are not those of the file
   */
  constructor(desk, { at, nth, was, of = 1 }, name, text = was) {
    this.#desk = desk;
    [this.#at, this.#nth, this.#was] = [at, nth, was];
    this.#field = el("textarea", { rows: "4", spellcheck: "true", oninput: () => this.#typed(), onblur: () => this.save() });
    this.#field.value = text;
    const which = of > 1 ? `, ${nth + 1} of ${of}` : "";
    const label = el("label", {}, el("span", {}, `Comment on ${name || "the start"}${which}`), this.#field);
    const other = async () => (await this.close()) && desk.openComment("", (nth + 1) % of);
    this.point = word("point", () => this.setPointing(!this.isPointing), { pressed: false });
    const marks = [this.point, word("strong", () => this.turn("!")), word("weak", () => this.turn("?"))];
    const others = of > 1 ? word(of > 2 ? "the next" : "the other", other) : null;
    const words = el("div", { class: "words" }, ...marks, others, word("done", () => this.close()));
    this.view = el("div", { class: "comment" }, label, words, this.#other);
    this.view.addEventListener("keydown", (event) => this.#key(event));
    this.#ours.add(text.trim());
    if (text !== was) this.#typed();
  }

  /** Moves the focus to the end of the words. */
  focus() {
    this.#field.focus({ preventScroll: true });
    this.#field.setSelectionRange(this.#field.value.length, this.#field.value.length);
    this.#grow();
  }

  #grow() {
    this.#field.rows = Math.min(14, Math.max(3, Math.ceil(this.#field.value.length / 40) + this.#field.value.split("\n").length));
  }

  #typed() {
    this.setPointing(false);
    if (this.#field.value.trimEnd().endsWith("}")) {
      this.#field.value = this.#field.value.trimEnd().slice(0, -1);
      // What is typed on is the next move, also while these words are being written.
      this.#desk.focus();
      this.close().then((isClosed) => isClosed || this.focus());
      return;
    }
    this.#changed();
  }

  // The words are others: the tab keeps them, and the file gets them after a rest.
  #changed() {
    this.#grow();
    this.#keep();
    clearTimeout(this.#rest);
    this.#rest = setTimeout(() => this.save(), REST);
  }

  #keep() {
    this.#desk.kept.set("draft", { at: this.#at, nth: this.#nth, was: this.#was, text: this.#field.value });
  }

  #key(event) {
    if (event.key === "Escape" || (event.key === "Enter" && (event.ctrlKey || event.metaKey))) {
      event.preventDefault();
      this.close();
    }
  }

  /** Writes the words to the file; a promise, true when they are there. */
  save(last = false) {
    clearTimeout(this.#rest);
    this.#saving = this.#saving.then(() => this.#write(last));
    return this.#saving;
  }

  async #write(last) {
    const text = this.#field.value.trim();
    if (text === this.#was.trim()) return true;
    this.#ours.add(text);
    const edit = { comment: { at: this.#at, nth: this.#nth, was: this.#was, text } };
    const done = await this.#desk.pen.edit(edit, { stays: true, last, refused: (error) => this.#refused(error) });
    if (!done) return false;
    this.#was = text;
    if (this.#field.value.trim() === text) this.#desk.kept.set("draft", null);
    else this.#keep();
    return true;
  }

  // Somebody else has written there: both are shown.
  async #refused(error) {
    if (error.code !== "comment-gone") return false;
    const { comments } = await this.#desk.ask("place", { at: this.#at });
    const theirs = comments[this.#nth] ?? "";
    if (theirs && this.#ours.has(theirs.trim())) {
      this.#was = theirs;
      this.save();
      return true;
    }
    const take = (text) => {
      this.#was = theirs;
      this.#field.value = text;
      this.#other.replaceChildren();
      this.save();
      this.focus();
    };
    this.#other.replaceChildren(
      el("div", {}, theirs ? "The file has other words here now:" : "The file has no comment here any more."),
      ...(theirs ? [el("blockquote", {}, theirs)] : []),
      el("div", { class: "words" }, word("write mine", () => take(this.#field.value)), word("take those", () => take(theirs))),
    );
    return true;
  }

  /** Ends the field, once its words are written. */
  async close() {
    this.setPointing(false);
    if (!(await this.save())) return false;
    this.#desk.closeComment(this);
    return true;
  }

  // Pointing at squares.

  setPointing(on) {
    this.isPointing = on;
    this.point.setAttribute("aria-pressed", String(on));
    this.#last = null;
    this.#desk.element.toggleAttribute("data-pointing", on);
  }

  /** A square was chosen on the board: alone it is a square, the next one makes it an arrow from there. */
  square(name) {
    const field = this.#field;
    const last = this.#last;
    if (last && last.squares.length === 1 && last.squares[0] !== name) {
      last.squares.push(name);
      this.#put(last);
      return;
    }
    const { selectionStart: from, selectionEnd: to, value } = field;
    const space = from > 0 && !/[\s(]$/.test(value.slice(0, from)) ? " " : "";
    field.setRangeText(space, from, to, "end");
    this.#put((this.#last = { from: from + space.length, to: from + space.length, squares: [name], kind: "" }));
  }

  /** The mark that was put in last is a strong (`!`) or weak (`?`) one; once more, and it is plain again. */
  turn(kind) {
    const last = this.#last;
    if (!last) return this.#desk.say("strong and weak turn the mark that was pointed at last: press point and choose a square first");
    last.kind = last.kind === kind ? "" : kind;
    this.#put(last);
  }

  #put(mark) {
    const text = `@${mark.kind}${mark.squares.join("-")}`;
    this.#field.setRangeText(text, mark.from, mark.to, "end");
    mark.to = mark.from + text.length;
    this.#field.focus({ preventScroll: true });
    this.#changed();
  }
}
