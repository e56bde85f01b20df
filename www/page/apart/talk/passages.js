// Where a talk speaks of the positions of a lesson: `Hear: 4:27-4:58, 12:03`, a paragraph of a comment.

const TIME = String.raw`(?:\d+:)?\d+:[0-5]\d(?:\.\d+)?`;
const ONE = String.raw`${TIME}(?:\s*[-–]\s*${TIME})?`;
const ALL = new RegExp(String.raw`^\s*Hear:\s*(${ONE}(?:\s*,\s*${ONE})*)\s*\.?\s*$`);

// `1:04:27` is one hour, four minutes and 27 seconds; `4:27.5` has half a second.
const seconds = (time) => time.split(":").reduce((sum, part) => sum * 60 + Number(part), 0);

/**
 * The passages of a paragraph, in its order: { said, from, to }, `said` the beginning as it was written, `from` and `to`
 * in seconds, `to` null where it has no end. Nothing where that is not what the paragraph holds, or an end is not after
 * its beginning.
 */
export function readTimes(paragraph) {
  const [, all] = ALL.exec(paragraph) ?? [];
  if (!all) return null;
  const passages = all.split(",").map((one) => {
    const [said, end] = one.split(/[-–]/).map((time) => time.trim());
    return { said, from: seconds(said), to: end ? seconds(end) : null };
  });
  return passages.every(({ from, to }) => to === null || to > from) ? passages : null;
}

/** The passages of a comment, those of all its paragraphs. */
export function readComment(comment) {
  return comment?.includes("Hear:") ? comment.split("\n\n").flatMap((paragraph) => readTimes(paragraph) ?? []) : [];
}

/** The passages of a lesson: which of its nodes the talk speaks of at a time. */
export class Passages {
  #all;
  #times; // all that are named, in order
  #asked = [0, 0]; // from when to when the last answer is the same
  #answer = null;

  /** @param all { node, from, to } in the order of the lesson's text; one without an end lasts to the next time named */
  constructor(all) {
    const times = new Set(all.flatMap(({ from, to }) => [from, to ?? from]));
    this.#times = [...times].sort((one, other) => one - other);
    this.#all = all.map(({ node, from, to }) => ({ node, from, to: to ?? this.#after(from) }));
  }

  get isEmpty() {
    return this.#all.length === 0;
  }

  /** When the passage begins that explains a node; nothing if it has none. */
  first(node) {
    return this.#all.find((one) => one.node === node)?.from;
  }

  /** The node of the shortest passage at this second; of two as short the later in the text, as the talk goes on. Null
   * between passages. */
  at(second) {
    const [since, until] = this.#asked;
    if (second >= since && second < until) return this.#answer;
    let best = null;
    for (const one of this.#all) {
      if (second < one.from || second >= one.to) continue;
      if (!best || one.to - one.from <= best.to - best.from) best = one;
    }
    this.#asked = [this.#times.findLast((time) => time <= second) ?? -Infinity, this.#after(second)];
    return (this.#answer = best?.node ?? null);
  }

  #after(second) {
    return this.#times.find((time) => time > second) ?? Infinity;
  }
}
