// Lessons with counts from games or assessments: what draws them is loaded where a lesson has any. It is a file beside the
// script in both forms, because counts come from an address too.

import { page, reflect, wordsOf } from "plyline-shared";
import { beside } from "plyline-beside";

const counted = new WeakMap(); // lesson -> a promise of its counts

/**
 * Shows the counts of lessons that name a file of them, and the figures that lessons quote.
 * @return what is to be called before a lesson is drawn
 */
export function heedCounts(runtime) {
  reflect({ prototype: customElements.get("ply-line").prototype, observedAttributes: ["counts", "assessments"] });
  const load = async (line) => {
    const { Counts } = await beside("plyline-counts.mjs");
    return new Counts(line, runtime, page, wordsOf);
  };
  const begin = async (line) => {
    if (line.localName !== "ply-line" || !line.lesson || !beside) return;
    const address = line.counts ?? line.lesson.tags.Counts;
    const assessments = line.assessments ?? line.lesson.tags.Assessments;
    if (!address && !assessments && !counted.has(line) && !line.text.includes("Counts:")) return;
    try {
      if (!counted.has(line)) counted.set(line, load(line));
      const counts = await counted.get(line).catch((error) => {
        counted.delete(line); // the next reading of the lesson asks again
        throw error;
      });
      await counts.read(address, assessments);
    } catch (error) {
      console.error(`plyline ${line.id}: counts ${address ?? ""}: ${error.message}`);
    }
  };
  page.addEventListener("ply-ready", (event) => begin(event.composedPath()[0]));
  runtime.present.forEach(({ element }) => begin(element));
  return (line) => counted.get(line)?.then((counts) => counts.put(), () => {});
}
