// The counts of one lesson: read from their file, shown beside its board for the position there, and
// beside the moves of its text where the reader asks for that.

import css from "plyline-style-counts";
import { drawCounts, quoteCounts, sayCounts } from "plyline-glue";
import { guarded, open } from "../core.js";
import { fetchFile, four } from "../file.js";
import { lettersOf } from "../letters.js";
import { Assessed } from "./assessed.js";

const ENDS = ["1-0", "1/2-1/2", "0-1", "*"];

const ends = (results) => ENDS.map((end) => results?.[end] ?? 0);
const list = (value) => (Array.isArray(value) ? value : []);

// Which games were counted, in the words of `plyline tally`.
const FILTERS = { since: (it) => `since ${it}`, until: (it) => `until ${it}`, rating: (it) => `ratings ${it}`, once: () => "identical ones once" };

/** The counts at an address. */
async function load(url) {
  const file = await fetchFile(url, "counts");
  const filters = Object.entries(file.filters ?? {}).map(([name, value]) => FILTERS[name]?.(value));
  const date = [file.date ?? "?", filters.filter(Boolean).join(", ")].filter(Boolean).join("; ");
  return { ...file, date, source: list(file.source), at: new Map(list(file.positions).map((it) => [it.fen, it])) };
}

let isStyled = false;

export class Counts {
  #line;
  #runtime;
  #page;
  #wordsOf;
  #address;
  #turn = 0; // counts readings, so that a slow answer to an old one is dropped
  #file = null; // what was read
  #place;
  #isOpen = false; // whether its core can be asked
  #isInText = false;
  #isMeasured = false; // whether there is room for it beside the text
  #watch = new MutationObserver(() => this.put());
  #assessed;
  #assessedAt; // the address that was read

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
      this.put();
    });
    line.addEventListener("ply-moved", () => this.#draw());
    this.#assessed = new Assessed(line, page, () => wordsOf(line));
  }

  /** Reads the counts and the assessments at an address each, once, and shows them; without an address only the figures are
   * shown that the lesson quotes. Fails where it holds no counts that are of this lesson. */
  async read(address, assessments) {
    const turn = ++this.#turn;
    await open();
    this.#isOpen = true;
    if (assessments !== this.#assessedAt) {
      this.#assessedAt = assessments;
      await this.#assessed.read(assessments).catch((error) => {
        console.error(`plyline ${this.#line.id}: assessments ${assessments}: ${error.message}`);
      });
      if (turn !== this.#turn) return;
    }
    if (address !== this.#address) {
      this.#file = null;
      this.#address = undefined;
      const file = address ? await load(new URL(address, this.#page.baseURI)) : null;
      if (turn !== this.#turn) return;
      this.#file = file;
      this.#address = address;
    }
    const { lesson } = this.#line;
    const isOther = this.#file && lesson && !this.#file.at.has(four(lesson.start));
    if (isOther) this.#file = this.#address = null;
    this.put();
    if (isOther) throw new Error("it is of another lesson, or of an older form of this one");
  }

  get #root() {
    return this.#runtime.of(this.#line)?.root;
  }

  /** Puts it in its place beside the board, if that is drawn, and figures into the text. Drawing all of the lesson takes
   * it away. */
  put() {
    if (!this.#isOpen) return;
    this.#watch.disconnect();
    const under = this.#root?.querySelector(".lesson:not(.quiz) .under");
    if (!this.#file) this.#place.remove();
    if (!under) return;
    if (this.#file) this.#settle(under);
    this.#putAssessed(under);
    this.#draw();
    if (this.#file && !this.#isMeasured) this.#measure(under.parentNode);
    this.#tell();
    this.#quote();
    // What is done here is not watched: a lesson that is drawn again as a whole is.
    const lines = this.#root.querySelector(".lines");
    for (const around of [under.parentNode, under]) this.#watch.observe(around, { childList: true });
    this.#watch.observe(lines, { childList: true, characterData: true, subtree: true });
  }

  // Before the counts; it needs a line, so that it may be there at once.
  #putAssessed(under) {
    under.querySelectorAll(".assessed").forEach((it) => it !== this.#assessed.place && it.remove());
    const { place } = this.#assessed;
    const after = this.#file ? this.#place : null;
    if (place && (place.parentNode !== under || place.nextSibling !== after)) under.insertBefore(place, after);
  }

  // After the map and what is opened under the board, so that it moves none of them when it comes.
  #settle(under) {
    if (under.lastChild === this.#place) return;
    this.#root.querySelectorAll(".counts").forEach((baked) => baked.remove());
    under.append(this.#place);
  }

  // Where the column has no room for it a scrollbar would come, and move all of it: there it waits until it is asked for.
  #measure({ scrollHeight, clientHeight }) {
    this.#isMeasured = true;
    this.#place.classList.toggle("apart", scrollHeight > clientHeight);
  }

  #draw() {
    const { current, lesson } = this.#line;
    if (!current || !this.#file) return; // a file comes after the core
    const at = this.#file.at.get(four(current.fen));
    this.#place.hidden = !at;
    if (!at) return;
    const [, turn, , , , number] = current.fen.split(" ");
    const nodes = new Map();
    if (!current.aside.length) for (const child of lesson.node(current.node).children) nodes.set(lesson.node(child).san, child);
    const next = list(at.next).map((it) => {
      const shown = `${number}${turn === "w" ? "." : "…"}${it.move}`;
      return ["m", shown, nodes.get(it.move) ?? "", ...ends(it.results)];
    });
    const written = this.#written(at, next);
    const had = this.#place.contains(this.#root?.activeElement);
    guarded(() => drawCounts(this.#place, written, this.#wordsOf(this.#line), lettersOf(this.#line)));
    if (had && !this.#place.contains(this.#root.activeElement)) this.#place.querySelector("summary").focus();
    this.#place.querySelector("[data-count]")?.setAttribute("aria-pressed", this.#isInText);
  }

  // What is read by src/counts/given.rs.
  #written(at, next) {
    const { source, date, damaged, left, results } = this.#file;
    const [by, parts] = Object.entries(at.by ?? {})[0] ?? ["", {}];
    const values = [source.join(", "), date, by, damaged, left, ...ends(results), ...ends(at.results)];
    values.push(at.predicted?.games ?? 0, at.predicted?.sum ?? 0);
    for (const [name, part] of Object.entries(parts)) values.push("p", name, ...ends(part.results));
    return [...values, ...next.flat()].join("\0");
  }

  // Says figures that comments quote as sentences: where nothing else is in the paragraph.
  #quote() {
    const texts = this.#page.createTreeWalker(this.#root.querySelector(".lines"), NodeFilter.SHOW_TEXT);
    const words = this.#wordsOf(this.#line);
    while (texts.nextNode()) {
      const text = texts.currentNode;
      if (!/^\s*Counts:/.test(text.data) || text.previousSibling || text.nextSibling) continue;
      const said = guarded(() => quoteCounts(text.data, words));
      if (said) text.data = said;
    }
  }

  // Writes counts beside the moves at each branch of the text, or takes them away.
  #tell() {
    const root = this.#root;
    root.querySelectorAll(".count").forEach((told) => told.remove());
    if (!this.#isInText || !this.#file) return;
    const { lesson } = this.#line;
    const words = this.#wordsOf(this.#line);
    // The nodes after which the lesson has several moves are those at which its variations begin.
    for (const branch of new Set(lesson.outline().map(({ node }) => lesson.node(node).parent))) {
      const { fen, children } = lesson.node(branch);
      const next = list(this.#file.at.get(four(fen))?.next);
      for (const child of children) {
        const { san } = lesson.node(child);
        const found = next.find(({ move }) => move === san);
        const move = found && root.querySelector(`#m${child}`);
        const said = move && guarded(() => sayCounts(this.#written(found, []), words));
        if (!said) continue;
        const told = this.#page.createElement("small");
        told.className = "count";
        told.textContent = ` (${said})`;
        move.after(told);
      }
    }
  }
}
