// The page while its author works on it: which of its lessons stands where in the file, what the checker says of it, and what
// somebody else has changed in the file.

import { Desk } from "./desk.js";
import { Findings } from "./findings.js";
import { InPlace } from "./inplace.js";
import { Gone, ask, hasKey } from "./server.js";

// Milliseconds before a program that did not answer is asked again.
const AGAIN = 2000;

class Page {
  #version = -1;
  #around; // what is in the file beside the lessons
  #desks = [];
  #known = null; // the last answer
  #place = new InPlace();
  #findings = new Findings(this);

  async begin() {
    await globalThis.customElements.whenDefined("ply-line");
    this.#known = await ask("page");
    [this.#version, this.#around] = [this.#known.version, this.#known.around];
    await this.#findDesks();
    this.#findings.show(this.#known.findings);
    this.#watch();
    addEventListener("pagehide", () => this.#leave());
    document.addEventListener("visibilitychange", () => document.hidden && this.#leave());
    document.addEventListener("keydown", (event) => this.#key(event));
  }

  /** What stands at a position, as elements. */
  findingsAt(lesson, moves) {
    return this.#findings.at(lesson, moves);
  }
  desk(number) {
    return this.#desks.find((desk) => desk.number === number);
  }

  // Each lesson of the file belongs to the element that has its text; of several with the same text, in their order.
  async #findDesks() {
    const elements = [...document.querySelectorAll("ply-line")];
    await Promise.all(elements.map((element) => element.ready));
    for (const lesson of this.#known.lessons) {
      const isEmpty = !lesson.text.trim();
      const at = elements.findIndex((it) => it && (isEmpty ? !it.text?.trim() : it.text === lesson.text && it.lesson));
      if (at < 0) continue;
      if (isEmpty) await retext(elements[at], "*");
      this.#desks.push(new Desk(elements[at], lesson, this));
      elements[at] = null;
    }
  }

  /** Takes a newer answer of the program: the texts of the lessons, and what is found in them. */
  async take(page) {
    if (page.version <= this.#version) return;
    this.#version = page.version;
    this.#known = page;
    const isOther = page.around !== this.#around;
    this.#around = page.around;
    if (isOther && !(await this.#place.take())) {
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
    const { page } = await ask("mend", { version: this.#version, finding });
    await this.take(page);
  }

  #leave() {
    for (const desk of this.#desks) desk.leave();
  }

  // Waits for what others change in the file.
  async #watch() {
    for (;;) {
      try {
        await this.take(await ask("wait", { version: this.#version }));
        this.#findings.alive(true);
      } catch (error) {
        this.#findings.alive(false, error);
        if (!(error instanceof Gone)) console.error(error);
        await new Promise((done) => setTimeout(done, AGAIN));
      }
    }
  }

  // Outside text fields, where these keys are the browser's.
  #key(event) {
    const { key, ctrlKey, metaKey, shiftKey, altKey } = event;
    if (!(ctrlKey || metaKey) || altKey || key.toLowerCase() !== "z") return;
    if (event.composedPath()[0].matches?.("input, textarea, [contenteditable]")) return;
    const writing = this.#desks.filter((desk) => desk.isWriting);
    const desk = writing.find(({ element }) => event.composedPath().includes(element)) ?? writing[0];
    if (!desk) return;
    event.preventDefault();
    desk.obey(shiftKey ? "redo" : "undo");
  }
}

/** Gives an element another text, and waits until it is drawn. */
async function retext(element, text) {
  if (element.text === text) return;
  const read = new Promise((done) => element.addEventListener("ply-ready", done, { once: true }));
  element.text = text;
  await Promise.race([read, new Promise((done) => setTimeout(done, 3000))]);
}

const page = new Page();
if (hasKey()) page.begin().catch((error) => console.error(error));
