// Lessons that answer what a reader tries: what searches is loaded with the first aside of such a lesson. It is a file
// beside the script in both forms, because few readers of few lessons need it.

import { page, reflect, wordsOf } from "plyline-shared";
import { beside } from "plyline-beside";

const answering = new WeakMap(); // lesson -> a promise of its answers

/** Answers asides of lessons with `answers="search"`. */
export function heedAsides(runtime) {
  reflect({ prototype: customElements.get("ply-line").prototype, observedAttributes: ["answers"] });
  const load = async (line) => {
    const { Answers } = await beside("plyline-answers.mjs");
    return new Answers(line, runtime, page, wordsOf);
  };
  page.addEventListener("ply-moved", async (event) => {
    const [line] = event.composedPath();
    if (line.localName !== "ply-line" || !line.current) return;
    const answers = line.answers ?? line.lesson.tags.Answers;
    if (!answering.has(line)) {
      if (answers !== "search" || !line.current.aside.length || !beside) return;
      answering.set(line, load(line));
    }
    try {
      (await answering.get(line)).heed(answers === "search");
    } catch (error) {
      answering.delete(line); // the next aside asks again
      console.error(`plyline ${line.id}: answers: ${error.message}`);
    }
  });
}
