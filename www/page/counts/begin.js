// Lessons with counts from games: what draws them is loaded where a lesson has any. It is a file beside the
// script in both forms, because counts come from an address too.

import { page, reflect, wordsOf } from "plyline-shared";

// A classic script knows its own address while it is run for the first time.
const from = new URL("plyline-counts.mjs", page?.currentScript?.src ?? import.meta.url);

const counted = new WeakMap(); // lesson -> a promise of its counts

/**
 * Shows the counts of lessons that name a file of them.
 * @return what is to be called before a lesson is drawn
 */
export function heedCounts(runtime) {
  reflect({ prototype: customElements.get("ply-line").prototype, observedAttributes: ["counts"] });
  const begin = async (line) => {
    if (line.localName !== "ply-line" || !line.lesson) return;
    const address = line.counts ?? line.lesson.tags.Counts;
    if (!address && !line.text.includes("Counts:")) return;
    if (!counted.has(line)) counted.set(line, import(from).then(({ Counts }) => new Counts(line, runtime, page, wordsOf)));
    try {
      await (await counted.get(line)).read(address);
    } catch (error) {
      counted.delete(line); // what could not be loaded is tried again
      console.error(`plyline ${line.id}: counts ${address}: ${error.message}`);
    }
  };
  page.addEventListener("ply-ready", ({ target }) => begin(target));
  runtime.present.forEach(({ element }) => begin(element));
  return (line) => counted.get(line)?.then((counts) => counts.put());
}
