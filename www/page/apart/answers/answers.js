// What a lesson answers when a reader tries a move that it does not hold: what that loses or wins by force, searched here
// in short turns, so that the page never waits for it.

import css from "plyline-style-answers";
import { Look, ownPlace, searching } from "plyline-glue";
import { guarded, open } from "../core.js";
import { four } from "../file.js";
import { lettersOf } from "../letters.js";

// Milliseconds of searching after which the page has its turn.
const SLICE = 6;
// Positions of the first turn; the next ones are measured by it.
const FIRST = 100;
// Milliseconds after which it is said what has been found so far.
const PATIENCE = 700;

const rest = () => new Promise((done) => setTimeout(done));

let isStyled = false;

export class Answers {
  #line;
  #runtime;
  #page;
  #wordsOf;
  #turn = 0; // counts asides, so that the search for an old one ends
  #place;
  #asked = null; // what the sentences are about: the moves from the start, and those that the search found after them
  #places; // four fields -> node, of the lesson that was read last
  #shown = ""; // the sentences
  #root; // whose steps it heeds
  #watch = new MutationObserver(() => this.#put());

  constructor(line, runtime, page, wordsOf) {
    this.#line = line;
    this.#runtime = runtime;
    this.#page = page;
    this.#wordsOf = wordsOf;
    if (!isStyled) runtime.style(css);
    isStyled = true;
    this.#place = page.createElement("div");
    this.#place.className = "answer";
    this.#place.setAttribute("role", "status");
    line.addEventListener("ply-ready", () => {
      this.#places = undefined;
      this.#end();
    });
  }

  /** The reader is somewhere else. */
  async heed(isOn) {
    const { current } = this.#line;
    if (!isOn || !current.aside.length || this.#isAsked) return this.#end();
    if (this.#asked && this.#rest(current)) return this.#put();
    this.#end();
    const turn = this.#turn;
    await open();
    if (turn !== this.#turn) return;
    await this.#read(turn);
    if (turn !== this.#turn) return;
    const own = this.#own(current.fen);
    if (own) return this.#lead(own);
    const look = guarded(() => Look.begin(this.#tried(current), this.#words, lettersOf(this.#line)));
    if (look) await this.#search(look, current, turn);
  }

  get #words() {
    return this.#wordsOf(this.#line);
  }
  // While a question is open nothing is answered.
  get #isAsked() {
    return Boolean(this.#runtime.of(this.#line)?.root?.querySelector('.try [data-do="hint"]'));
  }

  // The moves that the search found after what is on the board; nothing where that is not of the answer.
  #rest({ moves, fen }) {
    const { all, from, start } = this.#asked;
    const isOn = moves.length >= from && moves.every((move, at) => move === all[at]);
    if (!isOn || (moves.length === from && fen !== start)) return null;
    return all.slice(moves.length);
  }

  // The positions of the lesson, in turns too.
  async #read(turn) {
    if (this.#places) return;
    const { lesson } = this.#line;
    const places = new Map();
    let began = performance.now();
    for (let at = 1, node; (node = lesson.node(at)); at += 1) {
      const fen = four(node.fen);
      if (!places.has(fen)) places.set(fen, at);
      if (performance.now() - began < SLICE) continue;
      await rest();
      if (turn !== this.#turn) return;
      began = performance.now();
    }
    this.#places = places;
  }

  // The node of the lesson with this position that is in sight; a question may hide it.
  #own(fen) {
    const node = this.#places.get(four(fen));
    const shown = node && this.#runtime.of(this.#line).root.querySelector(`#m${node}`);
    return shown && !shown.closest("[hidden]") ? node : null;
  }

  // What src/aside/tried.rs reads: the position before captures that lead to the aside, and all moves from there.
  #tried({ node, aside }) {
    const { lesson } = this.#line;
    const before = [];
    let at = lesson.node(node);
    while (at.san?.includes("x") && at.parent !== null) {
      before.unshift(at.san);
      at = lesson.node(at.parent);
    }
    return [at.fen, ...before, ...aside].join("\0");
  }

  async #search(look, current, turn) {
    const began = performance.now();
    let positions = FIRST;
    let goesOn = true;
    let isSaid = false;
    while (goesOn) {
      const from = performance.now();
      goesOn = guarded(() => look.turn(positions));
      if (goesOn === undefined || turn !== this.#turn) break;
      const now = performance.now();
      positions = Math.max(FIRST, Math.round((positions * SLICE) / Math.max(now - from, SLICE / 2)));
      if (!isSaid) {
        isSaid = true;
        this.#say([guarded(() => searching(this.#words))], true);
      } else if (goesOn && now - began > PATIENCE && look.depth > 1) {
        const said = guarded(() => look.said());
        if (said) this.#say(said.split("\n"), true);
      }
      if (goesOn) await rest();
      if (turn !== this.#turn) break;
    }
    if (goesOn === false && turn === this.#turn) this.#answer(look, current);
    guarded(() => look.free());
  }

  #answer(look, { fen, moves }) {
    const line = guarded(() => look.line().split(" ").filter(Boolean));
    const said = guarded(() => look.said().split("\n"));
    if (!line || !said) return;
    const { pawns, mate, depth } = look;
    this.#asked = { all: [...moves, ...line], from: moves.length, start: fen };
    this.#say(said, false);
    const gain = { pawns: pawns / 100, mate: mate ?? null, depth };
    const detail = { fen, gain, line, complete: depth > 0 };
    this.#line.dispatchEvent(new CustomEvent("ply-answered-aside", { detail, bubbles: true, composed: true }));
  }

  // The lesson's own position by another order of moves.
  #lead(node) {
    const { lesson } = this.#line;
    const { parent, san } = lesson.node(node);
    const told = guarded(() => ownPlace(`${lesson.node(parent).fen}\0${san}`, this.#words, lettersOf(this.#line)));
    if (!told) return;
    const [sentence, word] = told.split("\n");
    const button = this.#page.createElement("button");
    button.type = "button";
    button.textContent = word;
    button.dataset.go = node;
    this.#say([sentence], false);
    this.#place.lastChild.append(" ", button);
  }

  // A search that goes on is shown, and told to who listens when it is over.
  #say(sentences, isBusy) {
    const text = sentences.join("\n");
    if (isBusy && text === this.#shown) return this.#put();
    this.#shown = text;
    this.#place.setAttribute("aria-busy", isBusy);
    // Not all that read a page aloud heed that it is busy.
    this.#place.setAttribute("aria-live", isBusy ? "off" : "polite");
    const paragraphs = sentences.map((sentence, at) => {
      const paragraph = this.#page.createElement("p");
      paragraph.textContent = sentence;
      if (at && at === sentences.length - 1) paragraph.className = "source";
      return paragraph;
    });
    this.#place.replaceChildren(...paragraphs);
    this.#put();
  }

  #end() {
    this.#turn += 1;
    this.#asked = null;
    this.#watch.disconnect();
    this.#place.remove();
  }

  // Under the board; drawing all of the lesson takes it away. While the search has moves after what is on the board the
  // word `next` plays them.
  #put() {
    const { root } = this.#runtime.of(this.#line) ?? {};
    const under = root?.querySelector(".lesson .under");
    if (!under) return;
    this.#watch.disconnect();
    const panel = under.querySelector(":scope > .panel");
    if (panel ? panel.nextSibling !== this.#place : this.#place.parentNode !== under) under.insertBefore(this.#place, panel?.nextSibling ?? under.firstChild);
    this.#heedSteps(root);
    const goesOn = this.#asked && this.#rest(this.#line.current)?.length > 0;
    if (goesOn) root.querySelector('[data-do="next"]')?.setAttribute("aria-disabled", "false");
    for (const around of [under.parentNode, under]) this.#watch.observe(around, { childList: true });
  }

  #heedSteps(root) {
    if (this.#root === root) return;
    this.#root = root;
    const onward = (event) => {
      const isStep = event.type === "click" ? event.target.closest('[data-do="next"]') : isRight(event);
      const [move] = (isStep && this.#asked && this.#place.isConnected && this.#rest(this.#line.current)) || [];
      if (!move) return;
      event.preventDefault();
      event.stopImmediatePropagation();
      this.#line.play(move);
    };
    for (const type of ["click", "keydown"]) root.addEventListener(type, onward, true);
  }
}

// The key that steps on, where no square or field heeds it.
function isRight({ key, target, ctrlKey, altKey, metaKey, shiftKey }) {
  return key === "ArrowRight" && !ctrlKey && !altKey && !metaKey && !shiftKey && !target.closest("[data-square],input");
}
