// When things are done: after the page is parsed, between two paints, near the view. A page
// with a hundred lessons opens like one with one, because only a few of them are read before its
// first paint, and only those near the view are drawn.

import { page } from "./document.js";

// Milliseconds of reading or drawing lessons after which the page may be painted.
const SLICE = 4;

/** Resolves after the next paint; soon where nothing is painted, as in a hidden tab. */
export function painted() {
  return new Promise((done) => {
    requestAnimationFrame(() => setTimeout(done));
    setTimeout(done, 100);
  });
}

let queue = Promise.resolve(); // each has its turn after the one before has done its work
let waiting = 0;
let began = 0; // when those that are read now began
let last = 0;
/** Resolves at once for the first lessons of a page, and for the others after a paint. */
export function inTurn() {
  if (waiting === 0 && performance.now() - last > 10 * SLICE) began = performance.now();
  waiting += 1;
  return (queue = queue.then(turn));
}

async function turn() {
  waiting -= 1;
  last = performance.now();
  if (last - began < SLICE) return;
  await painted();
  began = last = performance.now();
}

/** Resolves when the document has been parsed. */
export function whenParsed() {
  if (page.readyState !== "loading") return Promise.resolve();
  return new Promise((done) => page.addEventListener("DOMContentLoaded", done, { once: true }));
}

// WebKit leaves a page where it is scrolled to, and so moves what is read, when something above it grows.
const isAnchored = globalThis.CSS?.supports("overflow-anchor", "auto");
const height = () => page.documentElement.scrollHeight;

/** Lets an element be drawn, which may be above what is read. */
export function keepPlace(element, draw) {
  const before = isAnchored || element.getBoundingClientRect().bottom > 0 || height();
  draw(element);
  if (before !== true) scrollBy({ top: height() - before, behavior: "instant" });
}

/** A function that draws elements when they are near the view, the nearest first. */
export function whenNear(draw) {
  if (!globalThis.IntersectionObserver) return draw;
  const waiting = [];
  const far = (entry) => Math.abs(entry.boundingClientRect.top);
  const observer = new IntersectionObserver(
    (entries) => {
      const found = entries.filter(({ isIntersecting }) => isIntersecting).sort((one, other) => far(one) - far(other));
      const elements = found.map(({ target }) => target);
      elements.forEach((element) => observer.unobserve(element));
      if (waiting.push(...elements) === elements.length) drawAll();
    },
    // Sideways too: WebKit puts an element that has no box yet where its text would have begun,
    // which may be beside the page.
    { rootMargin: "800px" },
  );
  async function drawAll() {
    while (waiting.length > 0) {
      const until = performance.now() + SLICE;
      while (waiting.length > 0 && performance.now() < until) {
        const element = waiting.shift();
        if (element.isConnected) keepPlace(element, draw); // one that comes back is observed again
      }
      if (waiting.length > 0) await painted();
    }
  }
  return (element) => observer.observe(element);
}
