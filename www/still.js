// What the elements share that are about a lesson elsewhere in the page, which may come later than
// they do, or anew. <ply-diagram> and <ply-recap> show something of it and do not change it; what
// they show instead is what stands between their tags. <ply-ref> and <ply-prose> take their own
// words for it.

import { addressOf } from "./address.js";
import { written } from "./reflect.js";
import { reasonOf } from "./source.js";
import { findSquares } from "./squares.js";
import { whenNear } from "./turns.js";
import { own } from "./words.js";

// Milliseconds that a lesson may come late in.
const PATIENCE = 1000;
// Most lessons that an author is told of.
const LISTED = 8;

const Base = globalThis.HTMLElement ?? class {};

/**
 * The class that all extend. Each adds `asked(element, line)`, what it asks the core to show of a
 * lesson; nothing of a lesson where it is `placed`. Or it adds `take(element, line)`, which shows
 * nothing of its own and returns what was found.
 * @param Line the class of <ply-line>, which lends its lessons
 * @param parsed a promise: the page is parsed and its fences are elements
 */
export function makeStill(Line, sheet, parsed) {
  const present = new Set(); // those in the document

  class Still extends Base {
    #internals = this.attachInternals();
    #root = this.#internals.shadowRoot;
    #turn = 0; // counts readings, so that a slow answer to an old one is dropped
    #line = null;
    #is = null; // "read", and then "drawn"
    #findings = [];
    #click = (event) => followLink(event, Line, this.#line);
    #settle;
    #ready = new Promise((resolve) => (this.#settle = resolve));

    connectedCallback() {
      present.add(this);
      if (!this.#turn) this.#read();
      else if (this.#is === "read") inView(this);
    }

    disconnectedCallback() {
      present.delete(this);
    }

    // Moved by moveBefore: nothing to do, and nothing to undo.
    connectedMoveCallback() {}

    attributeChangedCallback(name, before, value) {
      if (this.#turn && before !== value) this.#read();
    }

    // Everything but drawing, which waits until the element nears the view.
    async #read() {
      const turn = ++this.#turn;
      await parsed;
      if (turn !== this.#turn) return;
      let line = null;
      if (!this.#ask(null).placed) {
        line = await lessonSoon(this);
        if (turn !== this.#turn) return;
      }
      try {
        await Line.load();
      } catch (error) {
        if (turn === this.#turn) this.#fail("core", error);
        return;
      }
      if (turn !== this.#turn) return;
      this.#line = line;
      const { take } = this.constructor;
      const findings = await (take ? take(this, line) : this.#call(undefined));
      if (!findings || turn !== this.#turn) return;
      this.#findings = findings;
      const say = ({ severity, code, message }) => console.info(`plyline ${this.#name}: ${severity} ${code}: ${message}`);
      if (this.#debug) findings.forEach(say);
      if (take) return this.#settle(this);
      const wrong = findings.find(({ severity }) => severity === "error");
      if (wrong) this.#tell(reasonOf(wrong), wrong.message);
      if (this.#is === "drawn") this.#draw();
      else {
        this.#is = "read";
        // What stands between the tags, in the room that a diagram will take: nothing moves when it is
        // drawn in sight. A baked page has the drawing itself.
        if (!wrong && !this.#root) {
          // Without what asks for styles, which would lay the page out for each of many.
          this.#root = this.attachShadow({ mode: "open" });
          this.#root.adoptedStyleSheets = [sheet()];
          const slot = document.createElement("slot");
          slot.className = "still";
          this.#root.append(slot);
        }
        if (this.isConnected) inView(this);
      }
      this.#settle(this);
    }

    #draw() {
      this.#dress();
      this.#is = "drawn";
      this.#call(this.#root);
    }

    #dress() {
      this.#root ??= this.attachShadow({ mode: "open" });
      this.#root.addEventListener("click", this.#click); // the same one is added once
      this.#root.adoptedStyleSheets = [sheet()];
      findSquares(this, this.#internals);
    }

    // Asks the core; with a root it draws there.
    #call(root) {
      const asked = this.#ask(this.#line);
      return this.#lend((mounted) => mounted.show(root, asked), this.#line);
    }

    #lend(call, line) {
      try {
        return Line.lend(line, this, call);
      } catch (error) {
        this.#fail("core", error);
      }
    }

    #ask(line) {
      return {
        element: this.localName,
        given: written(this),
        debug: this.#debug,
        bare: !this.childElementCount && !this.textContent.trim(),
        ...this.constructor.asked?.(this, line),
      };
    }

    #tell(reason, message) {
      console.error(`plyline ${this.#name}: ${message}`);
      this.dispatchEvent(new CustomEvent("ply-failed", { detail: { reason, message }, bubbles: true, composed: true }));
    }

    // The core is not there, or has ended.
    #fail(reason, error) {
      this.#dress();
      this.#is = "drawn";
      this.#findings = [];
      this.#root.replaceChildren(document.createElement("slot"));
      if (this.#ask(null).bare) {
        const sentence = document.createElement("p");
        sentence.className = "failed";
        sentence.textContent = own(this, "noStill");
        this.#root.prepend(sentence);
      }
      this.#tell(reason, `${own(this, "noStill")} (${error.message ?? error})`);
      this.#settle(this);
    }

    get #debug() {
      return this.closest('[data-plyline~="debug"]') !== null;
    }
    get #name() {
      return this.id || this.localName;
    }

    static draw(element) {
      if (element.#is === "read") element.#draw();
    }

    /** For a class of its own making: its root, the core, and its lesson. */
    static dress(element) {
      element.#dress();
      return element.#root;
    }

    static lend(element, call, line = element.#line) {
      return element.#lend(call, line);
    }

    static find(element) {
      return lessonOf(element);
    }

    static redress(element) {
      if (element.#is === "drawn") element.#dress();
    }

    // A lesson has been read, for the first time or anew.
    static heed(element, line) {
      const id = element.getAttribute("for");
      const isMeant = id ? id === line.id : element.#line === line || lessonOf(element) === line;
      if (element.#turn && isMeant) element.#read();
    }

    /** For what changes below the element. */
    static reread(element) {
      if (element.#turn) element.#read();
    }

    get ready() {
      return this.#ready;
    }
    get findings() {
      return this.#findings;
    }
  }

  const inView = whenNear(Still.draw);

  if (globalThis.document) {
    // What is open of a lesson may be shown elsewhere.
    for (const type of ["ply-ready", "ply-settled"]) {
      document.addEventListener(type, (event) => {
        const [line] = event.composedPath();
        present.forEach((element) => Still.heed(element, line));
      });
    }
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => present.forEach(Still.redress));
    addEventListener("beforeprint", () => present.forEach(Still.draw));
  }

  return Still;
}

/** Whether a click is no more than that: one with a key held opens a link elsewhere. */
export function isPlain({ button, ctrlKey, metaKey, shiftKey, altKey, defaultPrevented }) {
  return !(button || ctrlKey || metaKey || shiftKey || altKey || defaultPrevented);
}

/** A link to a lesson's position moves the lesson, unless the reader wants it elsewhere. */
export function followLink(event, Line, line) {
  const link = event.composedPath()[0].closest("a[data-go]");
  if (!link || !isPlain(event) || !line?.isConnected) return;
  if (Line.visit(line, Number(link.dataset.go))) event.preventDefault();
}

// The lessons of the element's own tree, else those of the page.
function lessonsAround(element) {
  const own = element.getRootNode().querySelectorAll?.("ply-line") ?? [];
  return [...(own.length ? own : element.ownerDocument.querySelectorAll("ply-line"))];
}

/** The lesson that `for` names, or the only one. */
export function lessonOf(element) {
  const id = element.getAttribute("for");
  const lessons = lessonsAround(element).filter((line) => !id || line.id === id);
  return id || lessons.length === 1 ? (lessons[0] ?? null) : null;
}

/** What `for` says where it names none, and behind U+0000 what it could have said. */
export function lostFor(element) {
  const ids = lessonsAround(element).slice(0, LISTED).map(({ id }) => id);
  return `${element.getAttribute("for") ?? ""}\0${ids.filter(Boolean).join(", ")}`;
}

/** The address of its start, where it is what the element has read; else nothing. */
export function startOf(element) {
  const line = lessonOf(element);
  return !element.hasAttribute("src") && line?.text === element.text ? addressOf(line.id, "") : "";
}

/** The same when it has been read; null where none has come for a moment. */
export async function lessonSoon(element) {
  if (!lessonOf(element)) {
    const signal = AbortSignal.timeout(PATIENCE);
    await new Promise((done) => {
      signal.onabort = done;
      document.addEventListener("ply-ready", () => lessonOf(element) && done(), { signal });
    });
  }
  const line = lessonOf(element);
  await line?.ready;
  return line;
}
