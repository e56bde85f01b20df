// The class of <ply-line>: it owns the element's life, the core (Rust) owns what it shows.
// Every call into the core passes through `guard`, for a trap ends the core's instance, and
// then this lesson fails alone; each of the others is mounted again where it was when it is
// next asked for anything, so one that is out of the page at that moment is not lost.

import { words } from "./words.js";

// Milliseconds that an element without a source waits for one before it says so.
const PATIENCE = 1000;

const Base = globalThis.HTMLElement ?? class {};

/** One core for all elements of the page. `load` returns a promise of { mount, reset }. */
export function makeLine(load, sheet) {
  let core = null;
  let era = 0; // counts the core's instances
  const drawn = new Set();

  class PlyLine extends Base {
    static observedAttributes = ["at", "side", "src"];

    #internals = this.attachInternals();
    #root = this.#internals.shadowRoot; // a baked page brings one; attachShadow would empty it
    #listening = false;
    #paper = null;
    #found = null;
    #mounted = null;
    #era = 0;
    #lesson = null;
    #request = null;
    #place = {};
    #text = null;
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
      else if (this.#mounted) drawn.add(this);
    }

    disconnectedCallback() {
      this.#waiting?.disconnect();
      this.#waiting = null;
      drawn.delete(this);
    }

    attributeChangedCallback(name, before, value) {
      if (!this.#request || before === value) return;
      if (name === "src") this.#start();
      else if (name === "at" && value !== null) this.go(value);
      else if (name === "side") this.#act((mounted) => mounted.side(value ?? "white"));
    }

    // Where the notation comes from: the property, a <pre> child, the address in `src`.
    async #start() {
      const turn = ++this.#turn;
      this.#waiting?.disconnect();
      this.#waiting = null;
      this.#place = {};
      if (document.readyState === "loading") {
        await whenParsed(); // until then a <pre> may hold half its text
        if (turn !== this.#turn) return;
      }
      const pre = [...this.children].find((child) => child.localName === "pre");
      const src = this.getAttribute("src");
      if (this.#text === null && !pre && src === null) return this.#wait();
      let text = this.#text ?? pre?.textContent;
      let game = 1;
      let latin1 = false;
      if (text === undefined) {
        try {
          [text, game, latin1] = await fetchNotation(new URL(src, this.baseURI));
        } catch (error) {
          if (turn === this.#turn) this.#fail("source", `${words.source}: ${src} (${error.message})`);
          return;
        }
      }
      try {
        core ??= await load();
      } catch (error) {
        if (turn === this.#turn) this.#fail("core", `${words.core}: ${error.message}`);
        return;
      }
      if (turn !== this.#turn) return;
      this.#request = { text, game, latin1 };
      this.#mount();
    }

    // Children may arrive late, from a framework; when they do not, the author should know.
    #wait() {
      const waiting = new MutationObserver(() => this.#start());
      waiting.observe(this, { childList: true });
      this.#waiting = waiting;
      setTimeout(() => this.#waiting === waiting && this.#fail("source", words.empty), PATIENCE);
    }

    #mount(again = false) {
      const first = this.id && this.ownerDocument.querySelector(`ply-line#${CSS.escape(this.id)}`);
      const name = this.id || this.getAttribute("src") || "";
      const baked = this.#root ? this.getAttribute("data-plyline-baked") : null;
      this.#dress();
      this.#era = era;
      const mounted = guard(this, () =>
        core.mount(this.#root, {
          ...this.#request,
          ...this.#place,
          name,
          baked: again ? null : baked,
          at: this.getAttribute("at"),
          side: this.getAttribute("side"),
          language: this.closest("[lang]")?.lang ?? "",
          idTaken: Boolean(first) && first !== this,
          debug: this.#debug,
        }),
      );
      if (!mounted) return;
      this.#mounted = mounted;
      this.#lesson = null;
      if (this.isConnected) drawn.add(this);
      const placed = this.#ask((mounted) => this.#note(mounted));
      if (!placed || again) return;
      const { findings, current } = this;
      const notes = (this.#debug && this.#ask((mounted) => mounted.notes())) || [];
      if (!this.#mounted) return;
      notes.forEach((note) => console.info(`plyline ${name}: ${note}`));
      if (current === null) this.#tell("notation", findings[0]?.message ?? words.empty);
      this.#settle(this);
      this.#send("ply-ready", { findings });
    }

    // The root, its sheet, and its two listeners. A baked root's <link> goes in the same task
    // in which the sheet is adopted, or the page would be painted without either.
    #dress() {
      this.#root ??= this.attachShadow({ mode: "open" });
      this.#paper ??= new CSSStyleSheet();
      this.#root.adoptedStyleSheets = [sheet(), this.#paper];
      this.#findPaper();
      for (const child of [...this.#root.children]) if (child.localName === "link") child.remove();
      if (this.#listening) return;
      this.#listening = true;
      const handle = (event) => this.#act((mounted) => mounted.handle(event), "reader");
      this.#root.addEventListener("click", handle);
      this.#root.addEventListener("keydown", handle);
    }

    // The page's own paper, for the board that stays while the text scrolls under it. CSS
    // cannot ask for it: backgrounds are not inherited.
    #findPaper() {
      let paper = "Canvas";
      for (let at = this; at; at = at.parentElement ?? at.getRootNode().host) {
        const { backgroundColor } = getComputedStyle(at);
        if (/^rgb\(|^color\([^/]*\)$|^ok|^lab|^lch/.test(backgroundColor)) {
          paper = backgroundColor;
          break;
        }
      }
      // Asked at every step; a rule that says the same would style the whole lesson anew.
      if (paper === this.#found) return;
      this.#found = paper;
      this.#paper.replaceSync(`:host { --paper-found: ${paper}; }`);
    }

    // What is mounted, in the core's present instance.
    get #alive() {
      if (this.#mounted && this.#era !== era) this.#mount(true);
      return this.#mounted;
    }

    #act(call, by = "script") {
      if (!this.#alive) return false;
      const before = this.#place.node;
      const changed = this.#ask((mounted) => {
        const changed = call(mounted);
        this.#note(mounted);
        return changed;
      });
      if (!this.#mounted) return false;
      this.#findPaper();
      if (this.#place.node !== before) this.#send("ply-moved", { ...this.current, by });
      return changed;
    }

    // Asks what is mounted, through the guard; undefined where nothing is, or it trapped.
    #ask(call) {
      const mounted = this.#alive;
      return mounted ? guard(this, () => call(mounted)) : undefined;
    }

    // Where the reader is, for mounting again there.
    #note(mounted) {
      return (this.#place = { node: mounted.node, black: mounted.black });
    }

    #send(type, detail) {
      this.dispatchEvent(new CustomEvent(type, { detail, bubbles: true, composed: true }));
    }

    #tell(reason, message) {
      console.error(`plyline${this.id && ` ${this.id}`}: ${message}`);
      this.#send("ply-failed", { reason, message });
    }

    // Nothing can be drawn: a sentence, and the element's own content below it.
    #fail(reason, message) {
      this.#mounted = this.#lesson = null;
      drawn.delete(this);
      if (!this.#root || this.#listening) {
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
      core.reset();
      era += 1;
      element.#fail("core", `${words.trap} (${error.message ?? error})`);
    }

    static repaper(element) {
      element.#findPaper();
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
      return this.#ask((mounted) => mounted.findings()) ?? [];
    }
    get current() {
      return this.#ask((mounted) => mounted.current()) ?? null;
    }
    /** Nodes made by the first drawing; 0 where a baked page was taken over. */
    get made() {
      return this.#ask((mounted) => mounted.made) ?? null;
    }

    go(place) {
      return this.#act((mounted) => mounted.go(place));
    }
    next(choice) {
      return this.#act((mounted) => mounted.next(choice));
    }
    back() {
      return this.#act((mounted) => mounted.back());
    }
    flip() {
      return this.#act((mounted) => mounted.flip());
    }
  }

  if (globalThis.matchMedia) {
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => {
      for (const line of drawn) PlyLine.repaper(line);
    });
  }

  function guard(element, call) {
    try {
      return call();
    } catch (error) {
      PlyLine.trapped(element, error);
    }
  }

  for (const name of ["at", "side", "src"]) {
    Object.defineProperty(PlyLine.prototype, name, {
      get() {
        return this.getAttribute(name);
      },
      set(value) {
        if (value === null || value === undefined) this.removeAttribute(name);
        else this.setAttribute(name, value);
      },
      configurable: true,
      enumerable: true,
    });
  }
  return PlyLine;
}

/** The notation at an address, without credentials, which of its games `#n` names, and
    whether it had to be read as Latin-1. */
async function fetchNotation(url) {
  const game = /^#[1-9]\d*$/.test(url.hash) ? Number(url.hash.slice(1)) : 1;
  url.hash = "";
  const answer = await fetch(url, { credentials: "omit" });
  if (!answer.ok) throw new Error(`${answer.status} ${answer.statusText}`.trim());
  const bytes = await answer.arrayBuffer();
  try {
    return [new TextDecoder("utf-8", { fatal: true }).decode(bytes), game, false];
  } catch {
    return [new TextDecoder("iso-8859-1").decode(bytes), game, true];
  }
}

/** Resolves when the document has been parsed. */
export function whenParsed() {
  if (document.readyState !== "loading") return Promise.resolve();
  return new Promise((done) => document.addEventListener("DOMContentLoaded", done, { once: true }));
}
