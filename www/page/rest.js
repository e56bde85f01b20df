// What is not near the view is drawn one by one while the page rests, so that it is nowhere raw
// notation, and the page is soon as long as it will be.

import { page } from "./document.js";
import { keepPlace } from "./turns.js";

// Nodes of the page that are made at rest, at most: one with many more would be slow to lay out.
const ENOUGH = 60_000;

const waiting = new Set();
let rests = false;
let made = 0;

/** Draws an element when there is nothing else to do. `draw` returns how many nodes it has made. */
export async function drawAtRest(element, draw) {
  waiting.add(element);
  if (rests) return;
  rests = true;
  if (page.readyState !== "complete") await new Promise((done) => addEventListener("load", done, { once: true }));
  while (made < ENOUGH) {
    await idle();
    const next = taken();
    if (!next) break;
    keepPlace(next, () => (made += draw(next) ?? 0));
  }
  waiting.clear();
  rests = false;
}

// The first that can be seen. One that is hidden cannot be measured; it is drawn when it is near.
function taken() {
  for (const element of waiting) {
    waiting.delete(element);
    if (element.checkVisibility()) return element;
  }
}

/** Resolves when there is nothing else to do. WebKit does not tell, and is given time. */
function idle() {
  return new Promise((done) => (globalThis.requestIdleCallback ?? ((then) => setTimeout(then, 60)))(done));
}
