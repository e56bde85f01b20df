// What both forms of the script share: defines <ply-line> once and offers the functions.

import css from "plyline-style";
import { heedAddress } from "./address.js";
import { page } from "./document.js";
import { makeBoard } from "./elements/board.js";
import { nameLessons, upgradeFences } from "./elements/fences.js";
import { makeLine } from "./elements/line.js";
import { Runtime } from "./runtime.js";
import { whenParsed } from "./turns.js";

// esbuild puts the version of Cargo.toml here.
/* global PLYLINE_VERSION */

/**
 * @param open returns a promise of the core: { mount, readLesson, reset }
 * @param others is given, once, what the other elements are made from: the class of those with a
 *   board, and the runtime
 */
export function makePlyline(open, others) {
  const runtime = new Runtime(open);

  /** Defines the elements; a second copy of the script, or a second call, does nothing. */
  function define() {
    if (!globalThis.customElements || customElements.get("ply-line")) return;
    runtime.style(css);
    runtime.heed();
    heedAddress(runtime);
    const Board = makeBoard(runtime);
    customElements.define("ply-line", makeLine(Board));
    runtime.parsed = whenParsed().then(() => {
      upgradeFences(page, runtime.fences);
      nameLessons(page);
    });
    others(Board, runtime);
  }

  /** Reads a text: a promise of { lesson, findings }; `lesson` is null if there is no game. */
  const readLesson = async (text, { game = 1, letters } = {}) => runtime.readLesson(String(text), game, letters);

  return { readLesson, define, ready: () => runtime.load(), version: PLYLINE_VERSION };
}

/** Gives the functions to the page's scripts, and defines the elements. */
export function offer(plyline) {
  // An element with that id is not our property.
  if (!Object.hasOwn(globalThis, "plyline")) globalThis.plyline = plyline;
  plyline.define();
}
