// What the elements share that are about a lesson elsewhere in the page, which may come later than
// they do, or again. <ply-diagram> and <ply-recap> show something of it and do not change it; else
// they show the text between their tags. <ply-ref> and <ply-prose> use their own words.

import { findSquares, inTurn, isDebugged, makeHeld, own, page, reasonOf, showFailed, tellFailed, wordsOf, written } from "plyline-shared";
import { ownNodes } from "./baked.js";
import { followLink, lessonOf, lessonSoon, lostFor } from "./lessons.js";

/** What one element shows of a lesson. Each class of elements has a class of its own of these. */
export class Companion {
  element;
  runtime;
  line = null;
  #internals;
  #root;
  #turn = 0; // counts readings, so that a slow answer to an old one is dropped
  #is = null; // "read", and then "drawn"
  findings = [];
  #click = (event) => followLink(event, this.line, this.runtime);
  #settle;
  ready = new Promise((resolve) => (this.#settle = resolve));

  constructor(element, runtime) {
    this.element = element;
    this.runtime = runtime;
    this.#internals = element.attachInternals();
    this.#root = this.#internals.shadowRoot;
  }

  // What each class defines.

  /** What it asks the core to show of a lesson; nothing of a lesson if it is `placed`. */
  asked() {}
  /** Or what it does with a lesson, showing nothing of its own: returns what was found. */
  take;

  connected() {
    this.runtime.present.add(this);
    if (!this.#turn) this.#read();
    else if (this.#is === "read") this.runtime.drawSoon(this.element);
  }

  disconnected() {
    this.runtime.present.delete(this);
  }

  // Everything but drawing, which waits until the element nears the view.
  async #read() {
    const { element, runtime } = this;
    const turn = ++this.#turn;
    await runtime.parsed;
    if (turn !== this.#turn) return;
    let line = null;
    if (!this.#ask(null).placed) {
      line = await lessonSoon(element);
      if (turn !== this.#turn) return;
    }
    const failed = await runtime.load().catch((error) => error);
    if (failed) await inTurn();
    if (turn !== this.#turn) return;
    if (failed) return this.#fail("core", failed);
    this.line = line;
    const findings = await (this.take ? this.take(line) : this.#call(undefined));
    if (!findings || turn !== this.#turn) return;
    this.findings = findings;
    const say = ({ severity, code, message }) => console.info(`plyline ${this.#name}: ${severity} ${code}: ${message}`);
    if (isDebugged(this.element)) findings.forEach(say);
    if (this.take) return this.#settle(element);
    const wrong = findings.find(({ severity }) => severity === "error");
    if (wrong) this.#tell(reasonOf(wrong), wrong.message);
    if (this.#is === "drawn") this.#draw();
    else {
      this.#is = "read";
      // The text between the tags, in the room that a diagram will take: nothing moves when it is
      // drawn in sight. A baked page has the drawing itself.
      if (!wrong && !this.#root) {
        // Without reading styles, which would lay the page out for each of many elements.
        this.#root = element.attachShadow({ mode: "open" });
        this.#root.adoptedStyleSheets = runtime.sheets;
        const slot = page.createElement("slot");
        slot.className = this.#ask(line).given.worded ? "still own" : "still";
        this.#root.append(slot);
      }
      if (element.isConnected) runtime.drawSoon(element);
    }
    this.#settle(element);
  }

  #draw() {
    const root = this.dress();
    this.#is = "drawn";
    this.#call(root);
  }

  drawNear() {
    if (this.#is === "read") this.#draw();
  }

  /** Its root, with the sheet and what a click on a link needs. */
  dress() {
    const { element } = this;
    this.#root ??= element.attachShadow({ mode: "open" });
    this.#root.addEventListener("click", this.#click); // the same one is added once
    this.#root.adoptedStyleSheets = this.runtime.sheets;
    this.#root.querySelectorAll("link").forEach((link) => link.remove()); // a baked root's, in the same task
    findSquares(element, this.#internals);
    return this.#root;
  }

  /** The page's ink or paper has changed. */
  repaper() {
    if (this.#is === "drawn") findSquares(this.element, this.#internals);
  }

  redress() {}

  openAll() {}

  print(on) {
    if (on) this.drawNear();
  }

  // Asks the core; with a root it draws there.
  #call(root) {
    const asked = this.#ask(this.line);
    return this.lend((mounted) => mounted.show(root, asked));
  }

  /** What `call` returns of a lesson, or of nothing where there is none; nothing where the core has ended. */
  lend(call, line = this.line) {
    const { element, runtime } = this;
    return runtime.guard(
      () => {
        const mounted = runtime.of(line)?.mounted;
        if (mounted) return call(mounted);
        const empty = runtime.mount({ text: "", game: 0, name: lostFor(element), words: wordsOf(element), element: "", given: {} });
        const answer = call(empty);
        empty.free();
        return answer;
      },
      (error) => this.#fail("core", error),
    );
  }

  #ask(line) {
    const { element } = this;
    return {
      element: element.localName,
      given: written(element),
      debug: isDebugged(this.element),
      bare: !ownNodes(element).some(({ localName, textContent }) => localName || textContent.trim()),
      ...this.asked(line),
    };
  }

  #tell(reason, message) {
    tellFailed(this.element, this.#name, reason, message);
  }

  // The core is not there, or has ended.
  #fail(reason, error) {
    const root = this.dress();
    this.#is = "drawn";
    this.findings = [];
    const sentence = own(this.element, "noStill");
    showFailed(root, this.#ask(null).bare ? sentence : "");
    this.#tell(reason, `${sentence} (${error.message ?? error})`);
    this.#settle(this.element);
  }

  get #name() {
    return this.element.id || this.element.localName;
  }

  /** A lesson has been read, for the first time or again, or more of it is open. */
  heed(line) {
    const id = this.element.getAttribute("for");
    const isMeant = id ? id === line.id : this.line === line || lessonOf(this.element) === line;
    if (isMeant) this.reread();
  }

  /** An attribute has changed. */
  changed() {
    this.reread();
  }

  /** What it says has changed, or what is in it. */
  reread() {
    if (this.#turn) this.#read();
  }
}

/** The class that the elements extend; each hands it the class of its own companion. */
export function makeCompanion(runtime) {
  // What is open of a lesson may be shown elsewhere.
  for (const type of ["ply-ready", "ply-settled"]) {
    page?.addEventListener(type, (event) => {
      const [line] = event.composedPath();
      for (const one of runtime.present) if (one instanceof Companion) one.heed(line);
    });
  }
  return makeHeld(runtime);
}
