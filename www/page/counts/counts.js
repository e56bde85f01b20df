// The counts of one lesson: read from their file, shown beside its board for the position there, and
// beside the moves of its text where the reader asks for that.

import css from "plyline-style-counts";
import { drawCounts, open, quoteCounts, sayCounts } from "./core.js";

const FORMAT = /^counts 1\b/;
const ENDS = ["1-0", "1/2-1/2", "0-1", "*"];

/** The four fields of a FEN that say what the position is. */
const four = (fen) => fen.split(" ").slice(0, 4).join(" ");
const ends = (results) => ENDS.map((end) => results?.[end] ?? 0);

let isStyled = false;

export class Counts {
  #line;
  #runtime;
  #page;
  #wordsOf;
  #address = null;
  #file = null; // what was read
  #at = new Map(); // position -> what was counted there
  #place;
  #isInText = false;
  #isOpen = false;
  #watch = new MutationObserver(() => this.put());

  constructor(line, runtime, page, wordsOf) {
    this.#line = line;
    this.#runtime = runtime;
    this.#page = page;
    this.#wordsOf = wordsOf;
    if (!isStyled) runtime.style(css);
    isStyled = true;
    this.#place = page.createElement("details");
    this.#place.className = "counts";
    this.#place.addEventListener("click", ({ target }) => {
      if (!target.closest("[data-count]")) return;
      this.#isInText = !this.#isInText;
      this.#tell();
    });
    line.addEventListener("ply-moved", () => this.#draw());
  }

  /** Reads the counts at an address, once, and shows them. Fails where it holds none that are of this lesson.
   * Without an address only the figures are shown that the lesson quotes. */
  async read(address) {
    await open();
    this.#isOpen = true;
    if (address && this.#address !== address) {
      this.#file = null;
      this.#place.remove();
      const answer = await fetch(new URL(address, this.#page.baseURI), { credentials: "omit" });
      if (!answer.ok) throw new Error(`${answer.status} ${answer.statusText}`.trim());
      const file = await answer.json();
      if (!FORMAT.test(file.plyline)) throw new Error(`this version reads "counts 1", and it is "${file.plyline}"`);
      this.#at = new Map(file.positions.map((it) => [it.fen, it]));
      this.#file = file;
      this.#address = address;
    }
    if (address && !this.#at.has(four(this.#line.lesson.start))) throw new Error("it is of another lesson, or of an older form of this one");
    this.put();
  }

  get #root() {
    return this.#runtime.of(this.#line)?.root;
  }

  /** Puts it in its place beside the board, if that is drawn, and figures into the text. Drawing all of the lesson takes it away. */
  put() {
    const under = this.#root?.querySelector(".lesson:not(.quiz) .under");
    if (!under) return;
    this.#watch.disconnect();
    if (this.#file && this.#place.nextSibling !== under) {
      // Without room for it beside the text it lies over that, and is opened on request.
      if (!this.#place.firstChild) this.#place.open = getComputedStyle(under).position === "static";
      under.before(this.#place);
    }
    if (this.#file) {
      this.#draw();
      this.#tell();
    }
    this.#quote();
    // What is done here is not watched: a lesson that is drawn again as a whole is.
    this.#watch.observe(under.parentNode, { childList: true });
    this.#watch.observe(this.#root.querySelector(".lines"), { childList: true, characterData: true, subtree: true });
  }

  #draw() {
    const { current, lesson } = this.#line;
    if (!current || !this.#file) return;
    const at = this.#at.get(four(current.fen));
    const isAside = current.aside.length > 0;
    this.#place.hidden = !at && isAside;
    const [, turn, , , , number] = current.fen.split(" ");
    const nodes = new Map();
    if (!isAside) for (const child of lesson.node(current.node).children) nodes.set(lesson.node(child).san, child);
    const next = (at?.next ?? []).map((it) => {
      const shown = `${number}${turn === "w" ? "." : "…"}${it.move}`;
      return ["m", shown, nodes.get(it.move) ?? "", ...ends(it.results)];
    });
    this.#guard(() => drawCounts(this.#place, this.#written(at, next), this.#wordsOf(this.#line)));
    this.#mark();
  }

  // What is read by src/counts/given.rs.
  #written(at, next) {
    const { source, date, filters, damaged, left, results } = this.#file;
    const [by, parts] = Object.entries(at?.by ?? {})[0] ?? ["", {}];
    const { by: split, ...others } = filters;
    const dates = [date ?? "?", ...Object.entries(others).map(([name, value]) => `${name} ${value}`)].join(", ");
    const values = [source.join(", "), dates, by, damaged, left, ...ends(results), ...ends(at?.results)];
    values.push(at?.predicted?.games ?? 0, at?.predicted?.sum ?? 0);
    for (const [name, part] of Object.entries(parts)) values.push("p", name, ...ends(part.results));
    return [...values, ...next.flat()].join("\0");
  }

  // Says on its button whether counts are in the text.
  #mark() {
    this.#place.querySelector("[data-count]")?.setAttribute("aria-pressed", this.#isInText);
  }

  // Says figures that comments quote as sentences.
  #quote() {
    const lines = this.#root?.querySelector(".lines");
    if (!this.#isOpen) return;
    const texts = this.#page.createTreeWalker(lines, NodeFilter.SHOW_TEXT);
    const words = this.#wordsOf(this.#line);
    while (texts.nextNode()) {
      const text = texts.currentNode;
      if (!/^\s*Counts:/.test(text.data)) continue;
      const said = this.#guard(() => quoteCounts(text.data, words));
      if (said) text.data = said;
    }
  }

  // Writes counts beside the moves at each branch of the text, or takes them away.
  #tell() {
    const root = this.#root;
    root.querySelectorAll(".count").forEach((told) => told.remove());
    this.#mark();
    if (!this.#isInText) return;
    const { lesson } = this.#line;
    const words = this.#wordsOf(this.#line);
    // The nodes after which the lesson has several moves are those at which its variations begin.
    for (const branch of new Set(lesson.outline().map(({ node }) => lesson.node(node).parent))) {
      const { fen, children } = lesson.node(branch);
      const at = this.#at.get(four(fen));
      for (const child of children) {
        const { san } = lesson.node(child);
        const next = at?.next.find(({ move }) => move === san);
        const move = next && root.querySelector(`#m${child}`);
        if (!move) continue;
        const told = this.#page.createElement("small");
        told.className = "count";
        told.textContent = ` (${this.#guard(() => sayCounts(this.#written(next, []), words))})`;
        move.after(told);
      }
    }
  }

  #guard(call) {
    return this.#runtime.guard(call, () => "");
  }
}
