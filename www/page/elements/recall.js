// <ply-recall>: a lesson, or a part of one, walked from memory at a board of its own.

import { page, reflect, save } from "plyline-shared";
import { exchange, forget, keyOf, stored, today } from "../progress.js";
import { lessonOf, startOf } from "../companions/lessons.js";
import { LentReading } from "./quiz.js";

const ATTRIBUTES = ["src", "for", "at", "side", "remember"];

const present = new Set(); // the recalls in the document

class RecallReading extends LentReading {
  reads = ATTRIBUTES;

  constructor(element, runtime) {
    super(element, runtime);
    for (const type of ["ply-ready", "ply-settled"]) element.addEventListener(type, () => this.learn());
  }

  connected() {
    present.add(this);
    super.connected();
  }

  disconnected() {
    present.delete(this);
    super.disconnected();
  }

  given() {
    const { element, prompt } = this;
    const side = lessonOf(element)?.getAttribute("side");
    return { ...super.given(), "lesson-side": side, start: startOf(element), prompt };
  }

  get isMissing() {
    return this.element.progress === null;
  }

  draw(again) {
    super.draw(again);
    for (const type of ["keydown", "click"]) this.root?.addEventListener(type, this.#press, true);
  }

  // A typed word does what the button does that says it, where only the page can do that.
  #press = (event) => {
    const { type, key, target } = event;
    const field = this.root.querySelector(".typed");
    const isEntered = type === "click" ? target.closest("[data-do=enter]") : key === "Enter" && target === field;
    const word = isEntered && field?.value.trim().toLowerCase();
    const button = word && [...this.root.querySelectorAll("[data-take]")].find(({ textContent }) => textContent.toLowerCase() === word);
    if (!button) return;
    event.stopImmediatePropagation();
    field.value = "";
    button.click();
  };

  takes(what) {
    if (what === "begin") {
      this.learn();
      this.act((mounted) => void mounted.recall("anew", today(), { seed: String(Math.floor(Math.random() * 2 ** 32)) }));
    } else if (what === "keep") this.learn("kept", true);
    else if (what === "file") save(this.element.exportProgress(), "plyline-progress.json", "application/json");
    else if (what === "load") this.#load();
    else if (what === "forget") this.learn("forgetAsk");
    else if (what === "spare") this.learn();
    else if (what === "erase") {
      this.element.forget();
      this.root.querySelector("[data-take=keep]")?.focus(); // it is gone itself
    } else return false;
    return true;
  }

  returned() {
    this.learn();
  }

  recall(what, text = "") {
    return this.ask((mounted) => mounted.recall(what, today(), { text }));
  }

  // Shows what is kept, and a sentence about it, perhaps of so many positions.
  #show(kept, note, read = 0) {
    const isKept = note === "forgetAsk" ? "forgetting" : "kept";
    const keeping = kept ? isKept : "offered";
    const shown = { keeping: this.element.remember ? keeping : "", note, read: String(read) };
    this.act((mounted) => void mounted.recall("show", today(), shown));
  }

  /** Merges what was learned here and elsewhere, and keeps it if the reader wants that. */
  learn(note = "", keep = false, read = 0) {
    if (!this.recall("tally")) return;
    const key = keyOf(this.element);
    const text = this.element.remember ? stored(key) : null;
    const found = exchange(key, text, (text) => this.recall("learn", text), keep);
    this.#show(found.kept, found.note || note, found.note ? 0 : read);
  }

  /** Nothing is kept any more. */
  unlearn(note) {
    this.recall("forget");
    this.#show(false, note);
  }

  // A file that the reader has saved before.
  #load() {
    const field = page.createElement("input");
    field.type = "file";
    field.accept = ".json";
    field.addEventListener("change", async () => {
      const text = await field.files[0].text();
      if (this.element.importProgress(text)) this.learn("fileRead", false, JSON.parse(text).positions.length);
      else this.learn("fileUnread");
    });
    field.click();
  }
}

// Asked for by the reader, here or in another tab.
function forgetAll(key, note = "") {
  forget(key);
  for (const reading of present) if (keyOf(reading.element) === key) reading.unlearn(note);
}

/** The class of <ply-recall>. */
export function makeRecall(Board, runtime) {
  // Another tab of the site has written, or forgotten.
  globalThis.addEventListener?.("storage", ({ key, newValue, storageArea }) => {
    for (const reading of present) {
      const own = keyOf(reading.element);
      if (storageArea !== localStorage || (key ?? own) !== own) continue;
      if (newValue === null) forgetAll(own);
      else reading.learn();
    }
  });

  return reflect(
    class PlyRecall extends Board {
      static observedAttributes = [...ATTRIBUTES, "letters"];

      constructor() {
        super(RecallReading);
      }

      get progress() {
        const counted = runtime.of(this).recall("tally");
        if (!counted) return null;
        const { next } = counted;
        return { ...counted, next: next ? new Date(next * 864e5).toISOString().slice(0, 10) : null };
      }
      exportProgress() {
        return runtime.of(this).recall("learn") ?? null;
      }
      importProgress(json) {
        const known = runtime.of(this).recall("learn", String(json) || "-")?.startsWith("{") ?? false;
        if (known) runtime.of(this).learn();
        return known;
      }
      forget() {
        forgetAll(keyOf(this), "forgotten");
      }
    },
  );
}
