// The class of <ply-line>: it owns the element's life, the core (Rust) owns what it shows.
// Every call into the core passes through `guard`, for a trap ends the core's instance, and
// then this lesson fails alone; each of the others is mounted again where it was when it is
// next asked for anything, so one that is out of the page at that moment is not lost.

import { moved, opened } from "./address.js";
import { heedPage, slide, uncover } from "./motion.js";
import { reflect, written } from "./reflect.js";
import { lostFor } from "./still.js";
import { isNarrow, Paper } from "./squares.js";
import { inTurn, whenNear, whenParsed } from "./turns.js";
import { copy, fetchNotation, reasonOf, save } from "./source.js";
import { own, wordsOf } from "./words.js";

// Milliseconds that an element without a source waits for one before it says so.
const PATIENCE = 1000;
// Milliseconds without a step after which the last one is said.
const CALM = 150;

const Base = globalThis.HTMLElement ?? class {};

/** One core for all elements of the page. `load` returns a promise of { mount, reset }. */
export function makeLine(load, sheet) {
  let core = null;
  let era = 0; // counts the core's instances
  const present = new Set(); // those that are read and in the document

  class PlyLine extends Base {
    static observedAttributes = ["at", "side", "src"];
    /** The attributes that say what is read. */
    static get reads() {
      return ["src"];
    }
    /** Notation from elsewhere than the element: a promise of { text, game }, of game 0 where it
     * is missing there; nothing where it is the element's own. */
    static source() {}
    /** What it says: its attributes by their names, and what of the page bears on it. */
    static given(element) {
      return { ...written(element), id: element.id || undefined };
    }
    /** Does what a button asks the page for; true where it is one of the class's own. */
    static takes() {}

    #internals = this.attachInternals();
    #root = this.#internals.shadowRoot; // a baked page brings one; attachShadow would empty it
    #drawn = false;
    #made = null;
    #paper = null;
    #mounted = null;
    #era = 0;
    #lesson = null;
    #request = null;
    #place = {};
    #prose = [];
    #text = null;
    #saying;
    // Once a piece is in the air under a finger, the page keeps still.
    #still = (event) => this.#ask((mounted) => mounted.dragging) && event.preventDefault();
    #turn = 0; // counts starts, so that a slow answer to an old one is dropped
    #waiting = null;
    #settle;
    #ready = new Promise((resolve) => (this.#settle = resolve));

    connectedCallback() {
      if (Object.hasOwn(this, "text")) {
        const { text } = this; // set before the element was defined
        delete this.text;
        this.text = text;
      } else if (!this.#request) this.#start();
      else if (this.#mounted) {
        present.add(this);
        if (!this.#drawn) inView(this);
      }
    }

    disconnectedCallback() {
      this.#waiting?.disconnect();
      this.#waiting = null;
      present.delete(this);
    }

    // Moved by moveBefore: nothing to do, and nothing to undo.
    connectedMoveCallback() {}

    attributeChangedCallback(name, before, value) {
      if (!this.#request || before === value) return;
      if (this.constructor.reads.includes(name)) this.#start();
      else if (name === "at" && value !== null) this.go(value);
      else if (name === "side") this.#act((mounted) => mounted.ask(value === "black" ? value : "white"));
    }

    // Where the notation comes from: the property, a <pre> child, the address in `src`.
    async #start() {
      const turn = ++this.#turn;
      this.#waiting?.disconnect();
      this.#waiting = null;
      this.#place = {};
      if (document.readyState === "loading") await whenParsed(); // until then a <pre> may hold half its text
      if (turn !== this.#turn) return;
      const pre = [...this.children].find((child) => child.localName === "pre" && child.textContent.trim());
      const src = this.getAttribute("src");
      const asked = pre || this.#text !== null ? undefined : this.constructor.source(this);
      const lent = asked && (await asked); // without it nothing may come between
      if (turn !== this.#turn) return;
      if (this.#text === null && !pre && src === null && !lent) return this.#wait();
      let text = this.#text ?? pre?.textContent;
      let [game, latin1] = [null, false];
      if (lent) ({ text, game } = lent);
      else if (text === undefined) {
        try {
          [text, game, latin1] = await fetchNotation(this, new URL(src, this.baseURI));
        } catch (error) {
          if (turn === this.#turn) this.#fail("source", `${own(this, "noSource")}: ${src} (${error.message})`);
          return;
        }
      }
      try {
        await PlyLine.load();
      } catch (error) {
        if (turn === this.#turn) this.#fail("core", `${own(this, "noCore")}: ${error.message}`);
        return;
      }
      await inTurn();
      if (turn !== this.#turn) return;
      this.#request = { text, game: game ?? 1, choose: game === null, latin1 };
      this.#mount();
    }

    // Children or their text may arrive late, from a framework; when they do not, the author
    // should know.
    #wait() {
      const waiting = new MutationObserver(() => this.#start());
      waiting.observe(this, { childList: true, characterData: true, subtree: true });
      this.#waiting = waiting;
      setTimeout(() => this.#waiting === waiting && this.#fail("source", own(this, "noText")), PATIENCE);
    }

    // The notation is read at once; it is drawn when the element nears the view.
    #mount({ again, game } = {}) {
      const first = this.id && this.ownerDocument.querySelector(`ply-line#${CSS.escape(this.id)}`);
      const name = this.id || this.getAttribute("src") || "";
      this.#era = era;
      const mounted = guard(this, () =>
        core.mount({
          ...this.#request,
          ...this.#place,
          name: this.#request.game ? name : lostFor(this),
          element: this.localName,
          given: this.constructor.given(this),
          letters: this.getAttribute("letters") ?? this.closest("[lang]")?.lang,
          words: wordsOf(this),
          idTaken: Boolean(first) && first !== this,
        }),
      );
      if (!mounted) return;
      this.#mounted = mounted;
      this.#lesson = null;
      const { node, settled } = this.#place; // a question of its own stays so
      if (settled) this.#ask((mounted) => [mounted.ask("show"), mounted.told(), mounted.lead(node)]);
      if (this.isConnected) present.add(this);
      if (this.#ask((mounted) => this.#note(mounted)) && this.#drawn) this.#draw(true);
      if (!this.#mounted || again) return;
      const { findings, current } = this;
      const notes = (this.#debug && this.#ask((mounted) => mounted.notes())) || [];
      if (!this.#mounted) return;
      notes.forEach((note) => console.info(`plyline ${name}: ${note}`));
      // What a class of its own misses is found last.
      const wrong = current === null ? findings[0] : this.constructor.isMissing(this) && findings.at(-1);
      if (wrong !== false) this.#tell(reasonOf(wrong), wrong?.message ?? own(this, "noText"));
      if (!this.#drawn) inView(this);
      this.#settle(this);
      this.#send("ply-ready", { findings });
      if (!game) opened(this);
    }

    #draw(again = false) {
      if (!this.#alive || (this.#drawn && !again)) return;
      const baked = (!this.#drawn && this.#root && this.getAttribute("data-plyline-baked")) || undefined;
      this.#dress();
      const language = this.closest("[lang]")?.lang ?? "";
      // Measured only now, for without its sheet the element is inline and has no width. A baked
      // page is taken over as it is.
      const narrow = !baked && isNarrow(this);
      this.#made = this.#ask((mounted) => mounted.draw(this.#root, baked, language, this.#debug, narrow)) ?? null;
      // On the grid: of a listener on a shadow root Chromium does not know in time, and scrolls.
      this.#root.querySelector(".grid")?.addEventListener("touchmove", this.#still, { passive: false });
    }

    static draw(element) {
      element.#draw();
    }

    // The root, its sheet, and its listeners. A baked root's <link> goes in the same task in
    // which the sheet is adopted, or the page would be painted without either.
    #dress() {
      this.#root ??= this.attachShadow({ mode: "open" });
      this.#paper ??= new Paper(this, this.#internals);
      this.#root.adoptedStyleSheets = [sheet(), this.#paper.sheet];
      this.#paper.find();
      for (const child of [...this.#root.children]) if (child.localName === "link") child.remove();
      if (this.#drawn) return;
      this.#drawn = true;
      const handle = (event) => this.#act((mounted) => mounted.handle(event), "reader");
      for (const type of ["click", "keydown", "pointerdown", "pointermove", "pointerup", "pointercancel"]) {
        this.#root.addEventListener(type, handle);
      }
      this.#root.addEventListener("click", (event) => this.#take(event.target));
      uncover(this.#root);
    }

    /** Whether what was read holds nothing to show. */
    static isMissing() {
      return false;
    }

    // What needs the browser: other elements, another lesson of the file, the clipboard, a download.
    async #take(target) {
      // One word opens the answers of the whole page.
      if (target.closest('[data-do="open"]')) present.forEach((other) => other !== this && other.#act((mounted) => mounted.ask("open")));
      const game = target.closest("[data-game]")?.dataset.game;
      if (game && this.#alive) {
        this.#place = {};
        this.#request = { ...this.#request, game: Number(game) };
        this.#mount({ game: true }); // the address means a place of the one before
        this.#send("ply-moved", { ...this.current, by: "reader" });
        moved(this);
        this.#root.querySelector(`[data-game="${game}"]`)?.focus();
      }
      const what = target.closest("[data-take]")?.dataset.take;
      if (!what || !this.#alive || this.constructor.takes(this, what)) return;
      const pgn = () => this.lesson?.toPgn() ?? this.text;
      if (what === "save") return save(pgn(), `${this.id || "lesson"}.pgn`);
      const done = await copy(what === "fen" ? this.current.fen : pgn());
      this.#act((mounted) => mounted.ask(done ? "copied" : "lost"));
    }

    // What is mounted, in the core's present instance.
    get #alive() {
      if (this.#mounted && this.#era !== era) this.#mount({ again: true });
      return this.#mounted;
    }

    // Asks what is mounted, through the guard; undefined where nothing is, or it trapped.
    #ask(call) {
      const mounted = this.#alive;
      return mounted ? guard(this, () => call(mounted)) : undefined;
    }

    #act(call, by = "script", jump = false) {
      const before = this.#ask((mounted) => mounted.turns);
      if (before === undefined) return false;
      let after = before;
      const changed = this.#ask((mounted) => {
        const changed = call(mounted);
        this.#note(mounted);
        after = mounted.turns;
        return changed;
      });
      if (!this.#mounted) return false;
      this.#report();
      if (by === "reader" && ((jump && changed) || after !== before)) moved(this, jump || this.#ask((mounted) => mounted.jumped), after !== before);
      if (after === before) return changed;
      if (this.#drawn) {
        slide(this.#root, this.#ask((mounted) => mounted.slides()) ?? []);
        clearTimeout(this.#saying);
        this.#saying = setTimeout(() => this.#ask((mounted) => mounted.say()), CALM);
        this.#paper.findSoon();
      }
      this.#send("ply-moved", { ...this.current, by });
      return changed;
    }

    // What has come of tries at questions, for a site that counts.
    #report() {
      for (const { type, detail } of this.#ask((mounted) => mounted.told()) ?? []) this.#send(type, detail);
    }

    // Where the reader is, for mounting again there.
    #note(mounted) {
      return (this.#place = { node: mounted.node, black: mounted.black, settled: mounted.waits() === false });
    }

    #send(type, detail) {
      this.dispatchEvent(new CustomEvent(type, { detail, bubbles: true, composed: true }));
    }

    #tell(reason, message) {
      console.error(`plyline${this.id && ` ${this.id}`}: ${message}`);
      this.#send("ply-failed", { reason, message });
    }

    // Nothing can be drawn: a sentence, and the element's own content below it. A baked root
    // that was never taken over stays as it is, for it can be read.
    #fail(reason, message) {
      this.#mounted = this.#lesson = null;
      present.delete(this);
      if (!this.#root || this.#drawn) {
        this.#dress();
        const sentence = document.createElement("p");
        sentence.className = "failed";
        sentence.textContent = message;
        this.#root.replaceChildren(sentence, document.createElement("slot"));
      }
      this.#tell(reason, message);
      this.#settle(this);
    }

    static trapped(element, error) {
      end();
      element.#fail("core", `${own(element, "trapped")} (${error.message ?? error})`);
    }

    /** Loads the core; a promise. */
    static async load() {
      core ??= await load();
    }

    /**
     * For an element that shows something of a lesson: what `call` returns of it, or of nothing
     * where there is no lesson. A trap costs the one that asks, and is thrown on.
     */
    static lend(line, element, call) {
      const mounted = line?.#alive;
      try {
        if (mounted) return call(mounted);
        const empty = core.mount({ text: "", game: 0, name: lostFor(element), words: wordsOf(element), element: "", given: {} });
        const answer = call(empty);
        empty.free();
        return answer;
      } catch (error) {
        end();
        throw error;
      }
    }

    /** Brings a lesson to a node at a reader's wish, and the focus there. False where it cannot. */
    static visit(line, node) {
      line.#draw();
      line.#act((mounted) => mounted.lead(node), "reader", true);
      if (!line.#mounted) return false;
      line.#root.querySelector(`#m${Math.max(node, 1)}`)?.focus();
      return true;
    }

    /** Brings a lesson to the place of an address or a locator. False where it names none. */
    static enter(line, run, by) {
      return line.#act((mounted) => mounted.enter(run), by, by === "reader");
    }

    /** Reads a paragraph of an article about a lesson; nothing where that cannot be done. */
    static read(line, text, first) {
      return line.#ask((mounted) => mounted.prose(text, first));
    }

    /** An article has been read; what was found in one around the lesson is found in it too. */
    static note(line, findings, isAround) {
      if (isAround) line.#prose = findings;
      if (!line.#debug) return;
      if (isAround) findings.forEach(({ code, message }) => console.info(`plyline ${line.id}: ${code}: ${message}`));
      if (line.#drawn && findings.length) line.#draw(true);
    }

    /** The run in the address of where a reader is, or was before the last move. */
    static run(line, was) {
      return line.#ask((mounted) => mounted.run(was));
    }

    /** Brings what a lesson shows into sight. */
    static reveal(line) {
      line.#draw();
      line.#ask((mounted) => mounted.reveal());
    }

    /** Calls the core for an element of a class that extends this one. */
    static act(element, call) {
      return element.#act(call);
    }

    /** Asks the core, and changes nothing. */
    static ask(element, call) {
      return element.#ask(call);
    }

    /** The text that was read, and which of its games. */
    static lends(line) {
      return line.#mounted ? { text: line.#request.text, game: line.#request.game } : null;
    }

    /** Reads everything anew. */
    static restart(element) {
      element.#start();
    }

    static print(element, on) {
      if (on) element.#draw();
      element.#ask((mounted) => mounted.print(on));
    }

    static redress(element) {
      if (element.#drawn) element.#dress();
    }

    static repaper(element) {
      if (element.#drawn) element.#paper.find();
    }

    get #debug() {
      return this.closest('[data-plyline~="debug"]') !== null;
    }

    get text() {
      return this.#text ?? this.#request?.text ?? null;
    }
    set text(text) {
      this.#text = text === null || text === undefined ? null : String(text);
      if (this.isConnected) this.#start();
    }
    get ready() {
      return this.#ready;
    }
    get lesson() {
      if (!this.#alive) return null; // mounting again drops the lesson of the instance before
      return (this.#lesson ??= this.#ask((mounted) => mounted.lesson()) ?? null);
    }
    get findings() {
      return [...(this.#ask((mounted) => mounted.findings()) ?? []), ...this.#prose];
    }
    get current() {
      return this.#ask((mounted) => mounted.current()) ?? null;
    }
    /** Nodes made by the last whole drawing; 0 where a baked page was taken over. */
    get made() {
      return this.#made;
    }

    go(place) {
      return this.#act((mounted) => mounted.go(place));
    }
    next(choice) {
      return this.#act((mounted) => mounted.next(choice));
    }
    back() {
      return this.#act((mounted) => mounted.ask("back"));
    }
    flip() {
      return this.#act((mounted) => mounted.ask("turn"));
    }
    play(move) {
      return this.#act((mounted) => mounted.play(String(move)));
    }
  }

  const inView = whenNear(PlyLine.draw);

  heedPage(present, PlyLine);

  // A trap ends the core's instance.
  function end() {
    core.reset();
    era += 1;
  }

  function guard(element, call) {
    try {
      return call();
    } catch (error) {
      PlyLine.trapped(element, error);
    }
  }

  return reflect(PlyLine);
}
