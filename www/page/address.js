// Places of lessons in the page's address, `page.html#ID/RUN`: it follows the reader, and lessons
// follow it. What an entry of the history shows of each lesson that was moved is kept in its state,
// so that Back finds a lesson where it was, though the address names one of them. Browsers refuse
// calls that come too often, and some places have no history: then there is no address.

import { page } from "./document.js";
import { painted } from "./turns.js";

// Milliseconds between two entries that are replaced, or made.
const PAUSE = 500;

const pause = () => new Promise((done) => setTimeout(done));
const base = () => location.href.replace(/#.*/, "");

/** The address of a place, for a link; under <base> a bare `#` would lead to another page. */
export function addressOf(id, run) {
  const before = page.baseURI.replace(/#.*/, "") === base() ? "" : base();
  return `${before}#${encodeURIComponent(id)}${run && `/${run}`}`;
}

/** What the page's address names: an id and a run. */
function named() {
  try {
    const [, id, run] = /^#([^/]*)\/?(.*)/.exec(location.hash).map(decodeURIComponent);
    return { id, run };
  } catch {
    return {}; // none, or not ours
  }
}

/** The run that this entry of the history has for a lesson; nothing if it does not say. */
function runFor({ id }) {
  const { id: addressed, run } = named();
  // A script may have moved the lesson since the address was written.
  return history.state?.plyline?.[id] ?? (addressed === id ? run : undefined);
}

// An element of that id may be elsewhere, and a later lesson too.
const find = (id) => id && page.querySelector(`ply-line#${CSS.escape(id)}`);

/** Whether addresses name this lesson, and not another with its id. */
const isNamed = ({ element }) => find(element.id) === element;

const begins = new WeakMap(); // reading -> its run before an address moved it

function enter(reading, run) {
  // Back to a page whose address names nothing, which the browser itself has left by a link.
  if (run === undefined && !named().id) run = begins.get(reading);
  else if (run !== undefined && !begins.has(reading)) begins.set(reading, reading.run());
  if (run !== undefined && !reading.enter(String(run), "address")) reading.miss(String(run));
}

let shown = null; // the address that was brought into sight

// The link in a sentence that the browser itself has followed to this address, before there was a script that could.
function followed() {
  const link = page.activeElement?.closest('ply-ref a, a[data-plyline=""]');
  return link?.hash === location.hash ? link : null;
}

/** Brings the lesson that the address names into sight, once. */
async function reveal(reading) {
  if (shown === location.hash || reading.element.id !== named().id) return;
  shown = location.hash;
  if (followed()) {
    await customElements.whenDefined("ply-ref");
    // The board comes to who reads there. When the article has been read it has other links.
    const link = followed();
    if (link) return reading.runtime.articles.keepSeen(reading, link);
  }
  if (!reading.isDrawn) {
    // Read, drawn, laid out and scrolled to in tasks of their own: together they are long on a slow processor.
    await pause();
    reading.draw();
    await painted();
  }
  reading.reveal();
  await painted(); // drawing above it moves it
  reading.reveal();
}

/** A lesson has been read. */
export function opened(reading) {
  if (!isNamed(reading)) return;
  enter(reading, runFor(reading.element));
  // A reader who comes back or loads again is where the browser puts them.
  const came = performance.getEntriesByType("navigation")[0]?.type ?? "navigate";
  if (came === "navigate") reveal(reading);
}

// The address has changed: by the reader, by a link, by going back.
function follow(runtime) {
  clearTimeout(timer);
  timer = 0;
  paragraph = undefined;
  const known = history.state?.plyline; // an entry of ours; the browser scrolls to where it was left
  for (const line of page.querySelectorAll("ply-line[id]")) {
    const reading = runtime.of(line);
    if (reading && isNamed(reading)) enter(reading, runFor(line));
  }
  const reading = runtime.of(find(named().id));
  if (reading && !known) reveal(reading);
}

/** Makes the lessons follow the address. */
export function heedAddress(runtime) {
  for (const type of ["popstate", "hashchange"]) addEventListener(type, () => follow(runtime));
}

let timer = 0; // while a step waits to be written
let waiting = null; // the reading of that step
let jumped = -PAUSE; // when the last entry was made
let paragraph; // whose links this entry is for

function write(how, reading, was) {
  const { id } = reading.element;
  const run = reading.run(was);
  if (run === undefined) return;
  put(how, id, run, `${base()}#${encodeURIComponent(id)}${run && `/${run}`}`);
}

function put(how, id, run, address) {
  shown = address.replace(/.*#/, "#");
  try {
    const { state } = history;
    const ours = state === null || state.constructor === Object;
    const next = ours ? { ...state, plyline: { ...state?.plyline, [id]: run } } : state;
    history[how](next, "", address);
  } catch {
    // ignored, as everything about the address is
  }
}

function replace() {
  clearTimeout(timer); // it may be written before its time
  timer = 0;
  if (waiting.element.isConnected) write("replaceState", waiting);
}

/**
 * A reader has moved a lesson: a step replaces the entry, soon; a jump makes one, also where it
 * leads to what is shown already. All links of a paragraph share one entry.
 */
export function moved(reading, jump = false, changed = true, from = undefined) {
  const { element } = reading;
  if (!isNamed(reading) || element.closest('[data-plyline-address~="off"]')) return;
  if (!changed && runFor(element) === reading.run()) return;
  const now = performance.now();
  const isShared = from && from === paragraph;
  if (jump) paragraph = from;
  if (!jump || isShared || now - jumped < PAUSE) {
    if (timer && waiting !== reading) replace();
    waiting = reading;
    timer ||= setTimeout(replace, PAUSE);
    return;
  }
  jumped = now;
  // Back leads to the place that the reader leaves.
  if (timer && waiting !== reading) replace();
  const was = reading.run(changed);
  if (timer) write("replaceState", reading, changed);
  else if (was !== undefined) put("replaceState", element.id, was, location.href);
  clearTimeout(timer);
  timer = 0;
  write("pushState", reading);
}
