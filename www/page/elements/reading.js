// One element's reading of a lesson: where its notation comes from, what the core has mounted of
// it, what is drawn of that and what a reader does there. <ply-line>, <ply-quiz> and <ply-recall>
// each have a class of their own that says what is different (board.js has what all of them offer).

import { page, safe } from "../document.js";
import { isDebugged, send, showFailed, tellFailed } from "../events.js";
import { slide, uncover } from "../look/motion.js";
import { isNarrow, Paper } from "../look/paper.js";
import { written } from "../reflect.js";
import { copy, fetchNotation, reasonOf, save } from "../source.js";
import { inTurn, whenParsed } from "../turns.js";
import { own, wordsOf } from "../words.js";

// Milliseconds that an element without a source waits for one before it says so.
const PATIENCE = 1000;
// Milliseconds that the address in `src` may leave without an answer before the reader is told.
const SILENCE = 20_000;
// Milliseconds without a step after which the last one is said.
const CALM = 150;

const isNotation = (child) => child.localName === "pre" && child.textContent.trim();

// The notation with what baking found in other posts of the series (src/bake/also.rs). A text that was
// changed since then has another length, and nothing is put into it.
function withOthers(element, text) {
  const also = element.getAttribute("data-plyline-also");
  if (parseInt(also) === text.length) for (const [, at, said] of also.matchAll(/(\d+)( .+)/g)) text = text.slice(0, at) + said + text.slice(at);
  return text;
}

export class Reading {
  /** The attributes that say what is read. */
  reads = ["src"];
  element;
  runtime;
  #internals;
  #root; // a baked page brings one; attachShadow would empty it
  #drawn = false;
  #failed = false; // whether the root was made for a sentence alone
  #made = null;
  #paper = null;
  #mounted = null;
  #era = 0;
  #lesson = null;
  #request = null;
  #carried; // where the reader is, for the next instance of the core
  #text = null;
  #saying;
  // While a finger carries a piece, the page does not scroll.
  #still = (event) => this.ask((mounted) => mounted.dragging) && event.preventDefault();
  #turn = 0; // counts starts, so that a slow answer to an old one is dropped
  #waiting = null;
  #settle;
  /** A promise: the lesson is read, or cannot be. */
  ready = new Promise((resolve) => (this.#settle = resolve));

  constructor(element, runtime) {
    this.element = element;
    this.runtime = runtime;
    this.#internals = element.attachInternals();
    this.#root = this.#internals.shadowRoot;
  }

  // What each class defines.

  /** Notation from elsewhere than the element: a promise of { text, game }, of game 0 where it
   * is missing there; nothing where it is the element's own. */
  source() {}
  /** What it says: its attributes by their names, and what the page adds. */
  given() {
    return written(this.element);
  }
  /** What `for` says where the notation is missing, for a sentence about it. */
  lost() {}
  /** Whether what was read holds nothing to show. */
  get isMissing() {
    return false;
  }
  /** Does what a button asks the page for; true if it is one of the class's own. */
  takes() {}
  /** An attribute has changed that does not say what is read. */
  heeds() {}
  /** The lesson has been read: for the first time or again, but not after a trap elsewhere. */
  opened() {}
  /** The instance is new, and the reader is where they were. */
  returned() {}
  /** A reader has moved the lesson, or jumped to a place that may be the same. */
  moved() {}
  /** Sheets of its own, after that of all elements. */
  get sheets() {
    return [];
  }
  /** Where its parts are on the page; found before it is drawn. */
  settle() {}
  /** What was found elsewhere about the lesson. */
  get others() {
    return [];
  }

  // Its life.

  connected() {
    const { element } = this;
    if (Object.hasOwn(element, "text")) {
      const { text } = element; // set before the element was defined
      delete element.text;
      element.text = text;
    } else if (!this.#request) this.start();
    else if (this.#mounted) {
      this.runtime.present.add(this);
      if (!this.#drawn) this.runtime.drawSoon(element);
    }
  }

  disconnected() {
    this.#stopWaiting();
    this.runtime.present.delete(this);
  }

  changed(name, value) {
    if (!this.#request) return;
    if (this.reads.includes(name)) this.start();
    else if (name !== "letters") this.heeds(name, value);
    // They only say how moves are shown: the reader stays where they are.
    else if (this.mounted) {
      this.#mount({ again: true });
      send(this.element, "ply-ready", { findings: this.findings });
    }
  }

  #stopWaiting() {
    this.#waiting?.disconnect();
    this.#waiting = null;
  }

  /** Reads everything again. The notation comes from the property, a <pre> child, the address in `src`. */
  async start() {
    const { element } = this;
    const turn = ++this.#turn;
    this.#stopWaiting();
    if (page.readyState === "loading") await whenParsed(); // until then a <pre> may hold half its text
    if (turn !== this.#turn) return;
    const pre = [...element.children].find(isNotation);
    const src = element.getAttribute("src");
    const asked = pre || this.#text !== null ? undefined : this.source();
    const lent = asked && (await asked); // without it nothing may come between
    if (turn !== this.#turn) return;
    if (this.#text === null && !pre && src === null && !lent) return this.#wait();
    let text = this.#text ?? pre?.textContent;
    let [game, latin1] = [null, false];
    if (lent) ({ text, game } = lent);
    else if (text === undefined) {
      const lost = (error) => turn === this.#turn && this.#failSource(src, error);
      // An answer that comes after that is shown all the same.
      const late = setTimeout(() => lost(new Error(own(element, "noAnswer"))), SILENCE);
      try {
        [text, game, latin1] = await fetchNotation(element, new URL(src, element.baseURI));
      } catch (error) {
        return void lost(error);
      } finally {
        clearTimeout(late);
      }
    }
    const failed = await this.runtime.load().catch((error) => error);
    await inTurn();
    if (turn !== this.#turn) return;
    if (failed) return this.#failCore("noCore", failed);
    if (this.#text === null && !lent) text = withOthers(element, text);
    this.#request = { text, game: game ?? 1, choose: game === null, latin1 };
    this.#mount();
  }

  // Children or their text may arrive late, from a framework; if they do not, the author should
  // know.
  #wait() {
    const waiting = new MutationObserver(() => this.start());
    waiting.observe(this.element, { childList: true, characterData: true, subtree: true });
    this.#waiting = waiting;
    setTimeout(() => this.#waiting === waiting && this.#fail("source", own(this.element, "noText")), PATIENCE);
  }

  // The notation is read at once; it is drawn when the element nears the view.
  #mount({ again, game } = {}) {
    const { element, runtime } = this;
    const old = this.#era === runtime.era && this.#mounted;
    const { id } = element;
    const first = id && safe(element.ownerDocument).querySelector(`ply-line#${CSS.escape(id)}`);
    const name = id || element.getAttribute("src") || "";
    this.#era = runtime.era;
    const mounted = this.#guard(() =>
      runtime.mount({
        ...this.#request,
        carried: again ? this.#carried : undefined,
        name: this.#request.game ? name : this.lost(),
        element: element.localName,
        given: this.given(),
        lang: element.closest("[lang]")?.lang,
        words: wordsOf(element),
        idTaken: Boolean(first) && first !== element,
      }),
    );
    // Another text of the same lesson: its reader stays.
    const stays = old && !game && this.#text !== null && mounted && this.#guard(() => mounted.stay(old));
    if (old && this.#era === runtime.era) old.free();
    if (!mounted) return;
    this.#mounted = mounted;
    this.#lesson = null;
    if (element.isConnected) runtime.present.add(this);
    this.ask((mounted) => this.#note(mounted));
    if (again && this.#mounted) this.returned();
    if (this.#drawn) this.draw(true);
    if (!this.#mounted || again) return;
    const { findings, current } = this;
    const notes = (this.isDebugged && this.ask((mounted) => mounted.notes())) || [];
    if (!this.#mounted) return;
    notes.forEach((note) => console.info(`plyline ${name}: ${note}`));
    // What is missing for one class is found last.
    const wrong = current === null ? findings[0] : this.isMissing && findings.at(-1);
    if (wrong !== false) tellFailed(element, id, reasonOf(wrong), wrong?.message ?? own(element, "noText"));
    if (!this.#drawn) runtime.drawSoon(element);
    this.#settle(element);
    send(element, "ply-ready", { findings });
    if (!game && !stays) this.opened();
  }

  /** Another game of the same text. */
  choose(game) {
    this.#request = { ...this.#request, game };
    this.#mount({ game: true }); // the address means a place of the one before
    send(this.element, "ply-moved", { ...this.current, by: "reader" });
    this.moved();
  }

  // What is drawn.

  /** Draws it, where that has not been done, or again. */
  draw(again = false) {
    const { element } = this;
    if (!this.mounted || (this.#drawn && !again)) return;
    const baked = (!this.#drawn && this.#root && element.getAttribute("data-plyline-baked")) || undefined;
    this.#dress();
    this.settle();
    const language = element.closest("[lang]")?.lang ?? "";
    // Measured only now, because without its sheet the element is inline and has no width.
    const narrow = isNarrow(element);
    this.#made = this.ask((mounted) => mounted.draw(this.#root, baked, language, this.isDebugged, narrow)) ?? null;
    // On the grid: Chromium notices a listener on a shadow root too late, and scrolls.
    this.#root.querySelector(".grid")?.addEventListener("touchmove", this.#still, { passive: false });
  }

  /** Draws it if that has not been done, and returns how many nodes were made for it. */
  drawNear() {
    if (this.#drawn) return 0;
    this.draw();
    return this.#made;
  }

  // The root, its sheet, and its listeners. A baked root's <link> goes in the same task in
  // which the sheet is adopted, or the page would be painted without either.
  #dress() {
    const { element } = this;
    this.#root ??= element.attachShadow({ mode: "open" });
    this.#paper ??= new Paper(element, this.#internals);
    this.#paper.find();
    this.wear();
    for (const child of [...this.#root.children]) if (child.localName === "link") child.remove();
    if (this.#drawn) return;
    this.#drawn = true;
    const handle = (event) => this.act((mounted) => mounted.handle(event), "reader");
    for (const type of ["click", "keydown", "pointerdown", "pointermove", "pointerup", "pointercancel"]) {
      this.#root.addEventListener(type, handle);
    }
    this.#root.addEventListener("click", ({ target }) => this.take(target));
    uncover(this.#root);
  }

  /** The paper behind it may be another. */
  repaper() {
    if (this.#drawn && this.#paper.find()) this.wear();
  }

  /** Puts on its sheets, which have changed. */
  wear() {
    if (this.#paper) this.#root.adoptedStyleSheets = [...this.runtime.sheets, this.#paper.sheet, ...this.sheets];
  }

  /** Its sheet is adopted again. */
  redress() {
    if (this.#drawn) this.#dress();
  }

  print(on) {
    if (on) this.draw();
    this.ask((mounted) => mounted.print(on));
  }

  /** What needs the browser: other elements, the clipboard, a download. */
  async take(target) {
    const { element } = this;
    // One button opens the answers of the whole page.
    if (target.closest('[data-do="open"]')) this.runtime.present.forEach((other) => other !== this && other.openAll());
    const what = target.closest("[data-take]")?.dataset.take;
    if (!what || !this.mounted || this.takes(what)) return;
    const pgn = () => this.lesson?.toPgn() ?? this.text;
    if (what === "save") return save(pgn(), `${element.id || "lesson"}.pgn`);
    const done = await copy(what === "fen" ? this.current.fen : pgn());
    this.act((mounted) => mounted.ask(done ? "copied" : "lost"));
  }

  openAll() {
    this.act((mounted) => mounted.ask("open"));
  }

  // Calls into the core.

  /** What is mounted, in the core's present instance; null if nothing is. */
  get mounted() {
    if (this.#mounted && this.#era !== this.runtime.era) this.#mount({ again: true });
    return this.#mounted;
  }

  #guard(call) {
    return this.runtime.guard(call, (error) => this.#failCore("trapped", error));
  }

  /** Asks the mounted lesson, and changes nothing; undefined if nothing is mounted, or it trapped. */
  ask(call) {
    const { mounted } = this;
    return mounted ? this.#guard(() => call(mounted)) : undefined;
  }

  /** Lets the mounted lesson do something; true when that changed something. */
  act(call, by = "script", jump = false) {
    const before = this.ask((mounted) => mounted.turns);
    if (before === undefined) return false;
    let after = before;
    const changed = this.ask((mounted) => {
      const changed = call(mounted);
      this.#note(mounted);
      after = mounted.turns;
      return changed;
    });
    if (!this.#mounted) return false;
    this.#report();
    const isTurned = after !== before;
    if (by === "reader" && ((jump && changed) || isTurned)) this.moved(jump || this.ask((mounted) => mounted.jumped), isTurned);
    if (!isTurned) return changed;
    if (this.#drawn) {
      slide(this.#root, this.ask((mounted) => mounted.slides()) ?? []);
      clearTimeout(this.#saying);
      this.#saying = setTimeout(() => this.ask((mounted) => mounted.say()), CALM);
      this.#paper.findSoon().then((isOther) => isOther && this.wear());
    }
    send(this.element, "ply-moved", { ...this.current, by });
    return changed;
  }

  // Sends the events of tries at questions, for a site that counts.
  #report() {
    for (const { type, detail } of this.ask((mounted) => mounted.told()) ?? []) send(this.element, type, detail);
  }

  // Where the reader is, for mounting again there.
  #note(mounted) {
    this.#carried = mounted.carry();
  }

  /** Goes to a node for a reader, and moves the focus there. False if it cannot. */
  visit(node) {
    this.draw();
    this.act((mounted) => mounted.lead(node), "reader", true);
    if (!this.#mounted) return false;
    this.#root.querySelector(`#m${Math.max(node, 1)}`)?.focus();
    return true;
  }

  // Where nothing can be shown.

  #failSource(src, { name, message }) {
    const sentence = `${own(this.element, "noSource")}: ${src}`;
    // Errors of the browser have other names.
    if (name === "Error") this.#fail("source", `${sentence} (${message})`);
    else this.#fail("source", sentence, message);
  }

  // Without the core the written text can be read, if there is any.
  #failCore(name, error) {
    const { element } = this;
    const below = [...element.children].some(isNotation) ? ` ${own(element, "below")}` : "";
    this.#fail("core", own(element, name) + below, error.message ?? error);
  }

  // Nothing can be drawn: a sentence, and the element's own content below it. A baked root
  // that was never taken over stays as it is, because it can be read. Why is for the author alone
  // where it is the browser's own error.
  #fail(reason, message, why) {
    this.#mounted = this.#lesson = null;
    this.runtime.present.delete(this);
    this.#failed ||= !this.#root;
    if (this.#failed || this.#drawn) {
      this.#root ??= this.element.attachShadow({ mode: "open" });
      // Without reading styles, which would lay the page out for each of many elements.
      if (!this.#drawn) this.#root.adoptedStyleSheets = this.runtime.sheets;
      showFailed(this.#root, message);
    }
    tellFailed(this.element, this.element.id, reason, why ? `${message} (${why})` : message);
    this.#settle(this.element);
  }

  get isDebugged() {
    return isDebugged(this.element);
  }
  get isDrawn() {
    return this.#drawn;
  }
  get root() {
    return this.#root;
  }
  /** The text that was read, and which of its games; null if there is none. */
  get lent() {
    return this.#mounted && { text: this.#request.text, game: this.#request.game };
  }

  get text() {
    return this.#text ?? this.#request?.text ?? null;
  }
  set text(text) {
    this.#text = text === null || text === undefined ? null : String(text);
    if (this.element.isConnected) this.start();
  }
  get lesson() {
    if (!this.mounted) return null; // mounting again drops the lesson of the instance before
    return (this.#lesson ??= this.ask((mounted) => mounted.lesson()) ?? null);
  }
  get findings() {
    return [...(this.ask((mounted) => mounted.findings()) ?? []), ...this.others];
  }
  get current() {
    return this.ask((mounted) => mounted.current()) ?? null;
  }
  /** Nodes made by the last whole drawing; 0 where a baked page was taken over. */
  get made() {
    return this.#made;
  }
}
