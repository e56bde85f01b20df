// The one field: what is typed there is a piece of PGN, signs, or a word. It judges what it receives, not keys.

import { count, el, word } from "./parts.js";
import { Refused } from "./server.js";

export class Field {
  #desk;
  #input;
  #look = el("div", { class: "look" });
  view;

  constructor(desk) {
    this.#desk = desk;
    this.#input = el("input", {
      type: "text", autocomplete: "off", autocapitalize: "off", spellcheck: "false",
      "aria-label": "A move, a word or a question", placeholder: "a move, a word or a question",
      oninput: () => this.#typed(), onkeydown: (event) => this.#key(event), onpaste: (event) => this.#pasted(event),
    });
    this.#input.value = desk.kept.get("field") ?? "";
    const form = el("form", { onsubmit: (event) => (event.preventDefault(), this.#enter()) }, this.#input, el("button", { type: "submit" }, "enter"));
    this.view = el("div", { class: "entry" }, form, this.#look);
  }

  focus() {
    this.#input.focus({ preventScroll: true });
  }

  /** A character that was typed on the board. */
  type(text) {
    this.focus();
    this.#input.setRangeText(text, this.#input.selectionStart, this.#input.selectionEnd, "end");
    this.#typed();
  }

  #set(text) {
    this.#input.value = text;
    this.#desk.kept.set("field", text || null);
  }

  #typed() {
    const text = this.#input.value;
    this.#desk.kept.set("field", text || null);
    if (!text.startsWith("{")) return;
    this.#set("");
    this.#desk.openComment(text.slice(1));
  }

  #key(event) {
    if (event.key === "Escape") {
      this.#look.replaceChildren();
      this.#desk.pen.stopChange();
    }
    if (this.#input.value || event.altKey || event.ctrlKey || event.metaKey) return;
    if (event.key === "ArrowLeft") this.#desk.element.back();
    else if (event.key === "ArrowRight") this.#desk.element.next();
    else return;
    event.preventDefault();
  }

  // More than a move is shown before it enters.
  #pasted(event) {
    const text = event.clipboardData.getData("text").trim();
    if (this.#input.value || !/\s/.test(text.replace(/^\d+\.+\s*/, ""))) return;
    event.preventDefault();
    this.#show(text);
  }

  async #show(text) {
    const given = { at: this.#desk.at, text };
    let look;
    try {
      ({ look } = await this.#desk.ask("enter", { ...given, look: true }));
    } catch (error) {
      return this.#desk.failed(error);
    }
    const { moves, fresh, here, named, unread } = look;
    const words = unread.length ? `; ${count(unread.length, "word")} unread: ${unread.slice(0, 8).join(" ")}${unread.length > 8 ? " …" : ""}` : "";
    const shut = () => (this.#look.replaceChildren(), this.focus());
    const enter = word("enter", async () => (shut(), this.#desk.pen.enter(given.text, given.at)));
    this.#look.replaceChildren(
      el("div", { role: "status" }, `${count(moves, "move")}${named ? " named in these sentences, which stay out" : ""}: ${fresh} new, ${here} here already${words}`),
      el("div", { class: "words" }, fresh ? enter : null, word("put away", shut)),
    );
    (fresh ? enter : this.#look.querySelector("button")).focus();
  }

  async #enter() {
    const text = this.#input.value.trim();
    if (!text) return;
    const isWord = await this.#desk.obey(text);
    if (isWord === false) return; // a word that could not be done: it stays, with the reason
    this.#look.replaceChildren();
    if (isWord) return this.#set("");
    const { selectionStart: at } = this.#input;
    const error = await this.#desk.pen.enter(text);
    if (!error) return this.#set("");
    if (!(error instanceof Refused)) return;
    let { from, to, near } = error.more;
    if (error.code === "stopped") {
      this.#set(text.slice(from));
      [from, to] = [0, to - from];
    }
    if (from === undefined) this.#input.setSelectionRange(at, at);
    else this.#input.setSelectionRange(from, to);
    if (!near?.length) return;
    const take = (san) => () => {
      const whole = this.#input.value;
      this.#set(from === undefined ? san : whole.slice(0, from) + san + whole.slice(to));
      this.#look.replaceChildren();
      this.focus();
    };
    this.#look.replaceChildren(el("div", { class: "words" }, "or: ", ...near.map((san) => word(san, take(san)))));
  }

  /** Nothing is offered any more. */
  calm() {
    if (!this.#look.querySelector('[role="status"]')) this.#look.replaceChildren();
  }
}
