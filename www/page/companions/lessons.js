// How an element finds the lesson that it is about, which may come later than it does, and links
// that lead to a position of that lesson.

import { addressOf, allAround, page, safe } from "plyline-shared";

// Milliseconds by which a lesson may come late.
const PATIENCE = 1000;
// Most lessons that a finding lists.
const LISTED = 8;

// The lessons of the element's own tree, else those of the page.
function lessonsAround(element) {
  const own = allAround(element, "ply-line");
  return own.length ? own : [...safe(element.ownerDocument).querySelectorAll("ply-line")];
}

/** The lesson that `for` names, or the only one: of the element's own article, else of all. A list of
    posts has an article for each, and may have the same names in several. */
export function lessonOf(element) {
  const id = element.getAttribute("for");
  const all = lessonsAround(element).filter((line) => !id || line.id === id);
  const article = element.closest("article");
  const near = all.filter((line) => article?.contains(line));
  return one(near, id) ?? one(all, id);
}

const one = (lessons, id) => (id || lessons.length === 1 ? (lessons[0] ?? null) : null);

/** What `for` says where it names none, and after U+0000 what it could have said. */
export function lostFor(element) {
  const ids = lessonsAround(element).slice(0, LISTED).map(({ id }) => id);
  return `${element.getAttribute("for") ?? ""}\0${ids.filter(Boolean).join(", ")}`;
}

/** The address of its start, where it is what the element has read; else nothing. */
export function startOf(element) {
  const line = lessonOf(element);
  return !element.hasAttribute("src") && line?.text === element.text ? addressOf(line.id, "") : "";
}

/** The same when it has been read; null if none has come for a moment. */
export async function lessonSoon(element) {
  if (!lessonOf(element)) {
    const signal = AbortSignal.timeout(PATIENCE);
    await new Promise((done) => {
      signal.onabort = done;
      page.addEventListener("ply-ready", () => lessonOf(element) && done(), { signal });
    });
  }
  const line = lessonOf(element);
  await line?.ready;
  return line;
}

/** Whether a click is a plain one: with a key held it opens a link elsewhere. */
export function isPlain({ button, ctrlKey, metaKey, shiftKey, altKey, defaultPrevented }) {
  return !(button || ctrlKey || metaKey || shiftKey || altKey || defaultPrevented);
}

/** A link to a position of the lesson moves the lesson, unless the reader wants it elsewhere. */
export function followLink(event, line, runtime) {
  const link = event.composedPath()[0].closest("a[data-go]");
  if (!link || !isPlain(event) || !line?.isConnected) return;
  if (runtime.of(line).visit(Number(link.dataset.go))) event.preventDefault();
}
