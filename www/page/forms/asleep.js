// Baked elements, which a page has as the script would draw them. They need the core only when a
// reader touches one, or the talk about a lesson plays. What was done there before it has come is done once the element is drawn, in its
// order, at the same nodes.

import { page } from "../document.js";

const BOARDS = ":is(ply-line, ply-quiz, ply-recall)[data-plyline-baked]";

/** Whether an element can be read as it is. A page that was put in by a script may lack the roots that baking wrote. */
export const isBaked = (element) => element.shadowRoot || element.matches('ply-prose[data-plyline-baked], ply-ref:has([data-plyline=""])');

// `made` is undefined before an element is defined, and null before it is drawn.
const isDrawn = ({ made }) => (made ?? -1) >= 0;

const woken = new Map(); // elements that are to be drawn, each with the events that wait for that

/**
 * Heeds what readers do at baked elements.
 * @param draw loads what an element needs and draws it: a promise, which is kept also where that fails
 */
export function heedReader(draw) {
  const heed = async (event) => {
    const path = event.composedPath();
    const [target] = path;
    // Not every browser does: by it address.js knows that a sentence is being read.
    if (event.type === "click") target.closest('a[data-plyline=""]')?.focus();
    const element = path.find((node) => node.matches?.(BOARDS));
    const waiting = woken.get(element);
    if (!element || (!waiting && isDrawn(element))) return;
    const events = waiting ?? [];
    if (isStep(event, target)) {
      // Nobody else does it too: the element may be drawn while others of its events still wait.
      event.preventDefault();
      event.stopImmediatePropagation();
      events.push([target, event]);
    } else if (event.type === "pointermove" && !target.closest(".margin")) return;
    if (waiting) return;
    woken.set(element, events);
    await draw(element);
    // From here to the end nothing comes between.
    woken.delete(element);
    if (isDrawn(element)) for (const [target, done] of events) target.dispatchEvent(new done.constructor(done.type, done));
  };
  // `pointerover` from one part of an element to another does not leave its shadow root.
  for (const type of ["pointermove", "pointerdown", "focusin", "keydown", "click"]) page.addEventListener(type, heed, true);
  // The board follows a talk that is played by what the page itself has for it.
  const heedTalks = () => {
    for (const line of page.querySelectorAll("ply-line[data-plyline-baked]")) {
      if (!isDrawn(line) && page.getElementById(talkOf(line))?.paused === false) draw(line);
    }
  };
  page.addEventListener("play", heedTalks, true);
  heedTalks();
}

// The id of what plays the talk about a lesson, as its attribute or its text says.
const talkOf = (line) => line.getAttribute("talk") ?? /\[Talk\s+"([^"]+)"/.exec(line.textContent)?.[1];

// Whether an event may be a step in a lesson (src/web/event.rs), and nothing that the browser does by itself.
function isStep({ type, key, altKey, metaKey, shiftKey }, target) {
  if (type === "click") return !target.closest("a, summary");
  if (type !== "keydown" || altKey || metaKey || shiftKey) return false;
  return (target.closest("[data-square]") ? /^(?:Arrow|Home|End|Enter|Esc| )/ : /^(?:Arrow[LR]|Esc)/).test(key);
}
