// plyline-core.mjs, which entry.js loads when it is wanted: what a page with lessons alone needs, but for the core
// itself, which comes at the same time. It loads plyline-more.mjs, which has the other elements, when it is asked to.

import { opener } from "./open.js";
import { makePlyline, offer } from "../define.js";

export * from "../shared.js";

let given = null; // what the other elements are made from, once <ply-line> is defined
let loading = null;
let found;
const finding = new Promise((done) => (found = done));

/** Says where the core comes from: what returns a promise of its module. */
export const openBy = (compiled) => found({ compiled });

/**
 * Loads and defines the elements other than <ply-line>; a promise. A failed load is tried again by
 * the next that asks. Does nothing where another copy of the script has defined <ply-line>.
 */
export async function more() {
  if (!given) return;
  loading ??= import("./plyline-more.mjs").then(
    ({ defineMore }) => defineMore(...given),
    (error) => {
      loading = null;
      throw error;
    },
  );
  await loading;
}

/** Draws an element as soon as it has been read, wherever it is. */
export async function draw(element) {
  await element.ready;
  given?.[1].of(element)?.draw();
}

const { ready, ...made } = makePlyline(opener(async () => (await finding).compiled()), (...parts) => (given = parts));

/** What the page is offered. Here `ready` loads everything too. */
export const plyline = { ...made, ready: async () => void (await Promise.all([ready(), more()])) };
offer(plyline);
