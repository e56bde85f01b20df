// The class of <ply-recall>: a lesson, or a part of one, walked from memory at a board of its own.

import { exchange, forget, keyOf, stored, today } from "./memory.js";
import { promptOf } from "./quiz.js";
import { reflect, written } from "./reflect.js";
import { save } from "./source.js";
import { followLink, lessonOf, startOf } from "./still.js";

/**
 * @param Line the class of <ply-line>
 * @param Quiz the class of <ply-quiz>, which borrows lessons
 */
export function makeRecall(Line, Quiz) {
  const attributes = ["src", "for", "at", "side", "remember"];
  const present = new Set(); // those in the document

  class PlyRecall extends Line {
    static observedAttributes = attributes;

    static get reads() {
      return attributes;
    }

    static source(element) {
      return Quiz.source(element);
    }

    static given(element) {
      const side = lessonOf(element)?.getAttribute("side");
      return { ...written(element), "lesson-side": side, start: startOf(element), prompt: promptOf(element) };
    }

    static isMissing(element) {
      return element.progress === null;
    }

    static takes(element, what) {
      if (what === "begin") {
        settle(element);
        Line.act(element, (mounted) => void mounted.recall("anew", today(), { seed: String(Math.floor(Math.random() * 2 ** 32)) }));
      } else if (what === "keep") settle(element, "kept", true);
      else if (what === "file") save(element.exportProgress(), "plyline-progress.json", "application/json");
      else if (what === "load") load(element);
      else if (what === "forget") settle(element, "forgetAsk");
      else if (what === "spare") settle(element);
      else if (what === "erase") {
        element.forget();
        element.shadowRoot.querySelector("[data-take=keep]")?.focus(); // it is gone itself
      } else return false;
      return true;
    }

    constructor() {
      super();
      this.addEventListener("ply-ready", () => settle(this));
      this.addEventListener("ply-settled", () => settle(this));
      this.addEventListener("click", (event) => followLink(event, Line, lessonOf(this)));
    }

    connectedCallback() {
      present.add(this);
      super.connectedCallback();
    }

    disconnectedCallback() {
      present.delete(this);
      super.disconnectedCallback();
    }

    get progress() {
      const counted = ask(this, "tally");
      if (!counted) return null;
      const { next } = counted;
      return { ...counted, next: next ? new Date(next * 864e5).toISOString().slice(0, 10) : null };
    }
    exportProgress() {
      return ask(this, "learn") ?? null;
    }
    importProgress(json) {
      const known = ask(this, "learn", String(json) || "-")?.startsWith("{") ?? false;
      if (known) settle(this);
      return known;
    }
    forget() {
      forgetAll(keyOf(this), "forgotten");
    }
  }

  const ask = (element, what, text = "") => Line.ask(element, (mounted) => mounted.recall(what, today(), { text }));

  // Shows what is kept, and a sentence about it, perhaps of so many positions.
  function show(element, kept, note, read = 0) {
    const isKept = note === "forgetAsk" ? "forgetting" : "kept";
    const keeping = kept ? isKept : "offered";
    const shown = { keeping: element.remember ? keeping : "", note, read: String(read) };
    Line.act(element, (mounted) => void mounted.recall("show", today(), shown));
  }

  // Takes up what was learned here and elsewhere, and keeps it where the reader wants that.
  function settle(element, note = "", keep = false, read = 0) {
    if (!ask(element, "tally")) return;
    const key = keyOf(element);
    const text = element.remember ? stored(key) : null;
    const found = exchange(key, text, (text) => ask(element, "learn", text), keep);
    show(element, found.kept, found.note || note, found.note ? 0 : read);
  }

  // At the reader's wish, here or in another tab.
  function forgetAll(key, note = "") {
    forget(key);
    for (const element of present) {
      if (keyOf(element) !== key) continue;
      ask(element, "forget");
      show(element, false, note);
    }
  }

  // A file that the reader has saved before.
  function load(element) {
    const field = document.createElement("input");
    field.type = "file";
    field.accept = ".json";
    field.addEventListener("change", async () => {
      const text = await field.files[0].text();
      if (element.importProgress(text)) settle(element, "fileRead", false, JSON.parse(text).positions.length);
      else settle(element, "fileUnread");
    });
    field.click();
  }

  // Another tab of the site has written, or forgotten.
  globalThis.addEventListener?.("storage", ({ key, newValue, storageArea }) => {
    for (const element of present) {
      const own = keyOf(element);
      if (storageArea !== localStorage || (key ?? own) !== own) continue;
      if (newValue === null) forgetAll(own);
      else settle(element);
    }
  });

  return reflect(PlyRecall);
}
