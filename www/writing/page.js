// The page while its author works on it: which of its lessons stands where in the file, what the checker says of it, and what
// somebody else has changed in the file.

import { Desk } from "./desk.js";
import { Findings } from "./findings.js";
import { InPlace } from "./inplace.js";
import { Gone, ask, hasKey } from "./server.js";

// Milliseconds before a program that did not answer is asked again.
const AGAIN = 2000;

class Page {
  /** The address of the file, which is another than that of the page where a generator serves it. */
  path;
  #version = -1;
  #taken; // a promise: the last answer is in the page
  #around; // what is in the file beside the lessons
  #desks = [];
  #known = null; // the last answer
  #place = new InPlace();
  #findings = new Findings(this);

  constructor(path) {
    this.path = path;
  }

  /** Asks the program for something about this file. */
  ask(what, given, more) {
    return ask(what, { page: this.path, ...given }, more);
  }

  /** Begins with the elements that may be of this file. */
  async begin(elements) {
    this.#known = await this.ask("page");
    [this.#version, this.#around] = [this.#known.version, this.#known.around];
    await this.#findDesks(elements);
    this.#findings.show(this.#known.findings);
    this.#watch();
    addEventListener("pagehide", () => this.#leave());
    document.addEventListener("visibilitychange", () => document.hidden && this.#leave());
    document.addEventListener("keydown", (event) => this.#key(event), true);
  }

  /** What stands at a position, as elements. */
  findingsAt(lesson, moves) {
    return this.#findings.at(lesson, moves);
  }
  desk(number) {
    return this.#desks.find((desk) => desk.number === number);
  }

  // Each lesson of the file belongs to the element that has its text; of several with the same text, in their order.
  async #findDesks(elements) {
    const left = [...elements];
    const others = [];
    for (const lesson of this.#known.lessons) {
      const isEmpty = !lesson.text.trim();
      const at = left.findIndex((it) => (isEmpty ? !it.text?.trim() : it.lesson && isSame(it.text, lesson.text)));
      if (at < 0) others.push(lesson);
      else await this.#sit(left.splice(at, 1)[0], lesson);
    }
    // The page may be older than what was written as it was left: then they are in their order.
    const unread = others.filter(({ text }) => text.trim());
    if (this.path !== location.pathname || unread.length !== left.length) return;
    for (const [at, lesson] of unread.entries()) await this.#sit(left[at], lesson);
  }

  async #sit(element, lesson) {
    await retext(element, lesson.text.trim() ? lesson.text : "*");
    this.#desks.push(new Desk(element, lesson, this));
  }

  /** Takes a newer answer of the program: the texts of the lessons, and what is found in them. The same may come twice, by an
   * edit and by waiting for changes: who comes second waits too until it is there. */
  take(page) {
    if (page.version > this.#version) this.#taken = this.#put(page);
    return this.#taken;
  }

  async #put(page) {
    this.#version = page.version;
    this.#known = page;
    const isOther = page.around !== this.#around;
    this.#around = page.around;
    // What a generator makes of it comes later, by the generator's own ways.
    if (isOther && this.path === location.pathname && !(await this.#place.take())) {
      for (const desk of this.#desks) desk.part();
      location.reload();
      return;
    }
    await Promise.all(
      this.#desks.map(async (desk) => {
        const lesson = page.lessons.find(({ number }) => number === desk.number);
        if (!lesson) return;
        await retext(desk.element, lesson.text);
        desk.renewed(lesson);
      }),
    );
    this.#findings.show(page.findings);
  }

  async mend(finding) {
    const { page } = await this.ask("mend", { version: this.#version, finding });
    await this.take(page);
  }

  #leave() {
    for (const desk of this.#desks) desk.leave();
  }

  // Waits for what others change in the file.
  async #watch() {
    for (;;) {
      try {
        await this.take(await this.ask("wait", { version: this.#version }));
        this.#findings.alive(true);
      } catch (error) {
        this.#findings.alive(false, error);
        if (!(error instanceof Gone)) console.error(error);
        await new Promise((done) => setTimeout(done, AGAIN));
      }
    }
  }

  // Outside text fields with a text, where these keys are the browser's.
  #key(event) {
    const { key, ctrlKey, metaKey, shiftKey, altKey } = event;
    if (!(ctrlKey || metaKey) || altKey || key.toLowerCase() !== "z") return;
    const [target] = event.composedPath();
    if (target.matches?.("textarea, [contenteditable]") || (target.matches?.("input") && target.value)) return;
    const writing = this.#desks.filter((desk) => desk.isWriting);
    const desk = writing.find(({ element }) => event.composedPath().includes(element)) ?? writing[0];
    if (!desk) return;
    event.preventDefault();
    desk.obey(shiftKey ? "redo" : "undo");
  }
}

// The parser of HTML takes the line end after <pre> away.
const isSame = (one, two) => one.trim() === two.trim();

const reading = new WeakMap(); // element -> a promise: the text that it was given last is read

/** Gives an element another text, and waits until it is read; also where it was given the same just before. */
function retext(element, text) {
  if (element.text === null || !isSame(element.text, text)) {
    const read = new Promise((done) => element.addEventListener("ply-ready", done, { once: true }));
    element.text = text;
    reading.set(element, Promise.race([read, new Promise((done) => setTimeout(done, 3000))]));
  }
  return reading.get(element);
}

// A page that a generator serves: each lesson belongs to the file that has its text.
async function findFiles(elements) {
  const files = new Map();
  for (const element of elements.filter((it) => it.lesson)) {
    try {
      const { page } = await ask("lesson", { text: element.text });
      files.set(page, [...(files.get(page) ?? []), element]);
    } catch (error) {
      const why = [error.message, error.help].filter(Boolean).join(": ");
      new Desk(element, { number: 0, writable: false, why }, { path: "", findingsAt: () => [] });
    }
  }
  for (const [path, own] of files) await new Page(path).begin(own);
}

async function begin() {
  await customElements.whenDefined("ply-line");
  const elements = [...document.querySelectorAll("ply-line")];
  await Promise.all(elements.map((element) => element.ready));
  try {
    await new Page(location.pathname).begin(elements);
  } catch (error) {
    if (error.code !== "no-page") throw error;
    await findFiles(elements);
  }
}

if (hasKey()) begin().catch((error) => console.error(error));
