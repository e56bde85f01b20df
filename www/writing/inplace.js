// Somebody has changed the page around its lessons: what is other there is put in, and the rest of the page stays as it is, with
// focus, caret and place. Paragraphs are put in whole; where a lesson itself has come or gone, that cannot be done.

const OURS = "[data-plyline]";
// What becomes something else in the page than it is in the file.
const LESSONS = "ply-line, ply-quiz, ply-recall, pre, script, link, style";

const source = async () => {
  const answer = await fetch(location.pathname + location.search, { cache: "no-store" });
  return new DOMParser().parseFromString(await answer.text(), "text/html");
};

// A node as text, without the words of its lessons, which are taken elsewhere.
function key(node) {
  if (node.nodeType !== Node.ELEMENT_NODE) return `${node.nodeType} ${node.nodeValue}`;
  const copy = node.cloneNode(true);
  for (const pre of [...(copy.matches("pre") ? [copy] : []), ...copy.querySelectorAll("pre")]) pre.textContent = "";
  return copy.outerHTML;
}

const nodes = (parent) => [...parent.childNodes].filter((node) => !(node.matches?.(OURS) || node.matches?.("script")));
const isLesson = (node) => node.matches?.(LESSONS) || Boolean(node.querySelector?.(LESSONS));

export class InPlace {
  #old = source();

  /** Puts in what has changed; false where the page is to be loaded again. */
  async take() {
    const [old, fresh] = [await this.#old, await source()];
    this.#old = fresh;
    if (key(old.head) !== key(fresh.head)) return false;
    const changes = [];
    if (!this.#compare(document.body, old.body, fresh.body, changes)) return false;
    for (const change of changes) change();
    return true;
  }

  // Collects what is to be done; false where it cannot be.
  #compare(live, old, fresh, changes) {
    const [here, was, is] = [nodes(live), nodes(old), nodes(fresh)];
    if (here.length !== was.length) return false;
    const [before, after] = [was.map(key), is.map(key)];
    let first = 0;
    while (first < before.length && before[first] === after[first]) first += 1;
    let last = 0;
    while (last < Math.min(before.length, after.length) - first && before.at(-1 - last) === after.at(-1 - last)) last += 1;
    const gone = was.slice(first, was.length - last);
    const come = is.slice(first, is.length - last);
    if (!gone.length && !come.length) return true;
    if (gone.length === come.length) {
      // One for one: what holds a lesson is looked into.
      return gone.every((node, at) => {
        const place = here[first + at];
        if (key(node) === key(come[at])) return true;
        if (!isLesson(node) && !isLesson(come[at])) return changes.push(() => place.replaceWith(document.importNode(come[at], true)));
        return node.nodeName === come[at].nodeName && place.nodeName === node.nodeName && !node.matches(LESSONS) && this.#compare(place, node, come[at], changes);
      });
    }
    if ([...gone, ...come].some(isLesson)) return false;
    const end = here[here.length - last] ?? null;
    changes.push(() => {
      for (const node of here.slice(first, here.length - last)) node.remove();
      for (const node of come) live.insertBefore(document.importNode(node, true), end);
    });
    return true;
  }
}
