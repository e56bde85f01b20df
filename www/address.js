// Places of lessons in the page's address, `page.html#ID/RUN`: it follows the reader, and lessons
// follow it. What an entry of the history shows of each lesson that was moved is kept in its state,
// so that Back finds a lesson where it was, though the address names one of them. Browsers refuse
// calls that come too often, and some places have no history: then there is no address.

import { painted } from "./turns.js";

// Milliseconds between two entries that are replaced, or made.
const PAUSE = 500;

const base = () => location.href.replace(/#.*/, "");

/** The address of a place, for a link; under <base> a bare `#` would lead to another page. */
export function addressOf(id, run) {
  const page = document.baseURI.replace(/#.*/, "") === base() ? "" : base();
  return `${page}#${encodeURIComponent(id)}${run && `/${run}`}`;
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

/** The run that this entry of the history has for a lesson; nothing where it does not tell. */
function runFor({ id }) {
  const { id: addressed, run } = named();
  // A script may have moved the lesson since the address was written.
  return history.state?.plyline?.[id] ?? (addressed === id ? run : undefined);
}

// An element of that id may stand elsewhere, and a later lesson too.
const find = (id) => id && document.querySelector(`ply-line#${CSS.escape(id)}`);

const enter = (line, run) => run !== undefined && line.constructor.enter(line, String(run), "address");

let shown = null; // the address that was brought into sight

/** Brings the lesson that the address names into sight, once. */
async function reveal(line) {
  if (shown === location.hash || line.id !== named().id) return;
  shown = location.hash;
  line.constructor.reveal(line);
  await painted(); // what is drawn above it moves it
  line.constructor.reveal(line);
}

/** A lesson has been read. */
export function opened(line) {
  if (find(line.id) !== line) return;
  enter(line, runFor(line));
  // A reader who comes back or loads anew is where the browser puts them.
  const came = performance.getEntriesByType("navigation")[0]?.type ?? "navigate";
  if (came === "navigate") reveal(line);
}

// The address has changed: by the reader, by a link, by going back.
function follow() {
  clearTimeout(timer);
  timer = 0;
  const known = history.state?.plyline; // an entry of ours; the browser scrolls to where it was left
  for (const line of document.querySelectorAll("ply-line[id]")) if (find(line.id) === line) enter(line, runFor(line));
  const line = find(named().id);
  if (line && !known) reveal(line);
}

if (globalThis.document) for (const type of ["popstate", "hashchange"]) addEventListener(type, follow);

let timer = 0; // while a step waits to be written
let waiting = null; // the lesson of that step
let jumped = -PAUSE; // when the last entry was made

function write(how, line, was) {
  const run = line.constructor.run(line, was);
  if (run === undefined) return;
  put(how, line, run, `${base()}#${encodeURIComponent(line.id)}${run && `/${run}`}`);
}

function put(how, line, run, address) {
  shown = address.replace(/.*#/, "#");
  try {
    const { state } = history;
    const ours = state === null || state.constructor === Object;
    const next = ours ? { ...state, plyline: { ...state?.plyline, [line.id]: run } } : state;
    history[how](next, "", address);
  } catch {
    // ignored, as everything about the address is
  }
}

function replace() {
  timer = 0;
  if (waiting.isConnected) write("replaceState", waiting);
}

/**
 * A reader has moved a lesson: a step replaces the entry, soon; a jump makes one, also where it
 * leads to what is shown already.
 */
export function moved(line, jump = false, changed = true) {
  if (find(line.id) !== line || line.closest('[data-plyline-address~="off"]')) return;
  if (!changed && runFor(line) === line.constructor.run(line)) return;
  const now = performance.now();
  if (!jump || now - jumped < PAUSE) {
    if (timer && waiting !== line) replace();
    waiting = line;
    timer ||= setTimeout(replace, PAUSE);
    return;
  }
  jumped = now;
  // What the reader leaves is what Back leads to.
  if (timer && waiting !== line) replace();
  const was = line.constructor.run(line, changed);
  if (timer) write("replaceState", line, changed);
  else if (was !== undefined) put("replaceState", line, was, location.href);
  clearTimeout(timer);
  timer = 0;
  write("pushState", line);
}
