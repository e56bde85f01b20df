// plyline.mjs, a small module. It loads plyline-core.mjs and the core when one of our elements, or a fence that
// becomes one, nears the view, or when a script asks for it; and with it plyline-more.mjs, where the
// page has other elements than lessons. Baked elements wait for their reader (asleep.js).

import { compiled } from "plyline-compiled";
import { page } from "../document.js";
import { tellFailed } from "../events.js";
import { fenceName } from "../elements/fences.js";
import { whenNear, whenParsed } from "../turns.js";
import { ownUnloaded } from "../words.js";
import { heedReader, isBaked } from "./asleep.js";

// esbuild puts the version of Cargo.toml here.
/* global PLYLINE_VERSION */

// What loads something once; where that fails the next that asks tries again.
const once = (begin) => {
  let loading = null;
  return () =>
    (loading ??= begin().catch((error) => {
      loading = null;
      throw error;
    }));
};
const compile = once(compiled);
const load = once(async () => {
  // Both at once. Whoever needs the core tells that it failed.
  compile().catch(() => {});
  const core = await import("./plyline-core.mjs");
  core.openBy(compile);
  return core;
});

/** The version of the script. */
export const version = PLYLINE_VERSION;

/** Loads everything and defines the elements; a promise. */
export async function ready() {
  await (await load()).plyline.ready();
}

/** Reads a text: a promise of { lesson, findings }; `lesson` is null if there is no game. */
export async function readLesson(text, options) {
  return (await load()).plyline.readLesson(text, options);
}

/** Defines the elements as soon as one of them nears the view. The module has done so. */
export function define() {
  if (watching || !page) return;
  watching = true;
  whenParsed().then(watch);
}

let watching = false;

function watch() {
  const others = new WeakMap(); // what was found -> whether plyline-more.mjs draws it
  const loadMore = async () => {
    await (await load()).more();
    later.disconnect();
  };
  const loadFor = async (element) => {
    let core;
    try {
      core = await load();
      if (others.get(element)) await loadMore();
      return core;
    } catch (error) {
      fail(element, core ? "noStill" : "noCore", error);
    }
  };
  const near = whenNear(loadFor);
  const look = () => {
    let isMore = false;
    for (const element of page.querySelectorAll(":not(:defined), pre")) {
      const name = element.localName.startsWith("ply-") ? element.localName : fenceName(element);
      if (!name || others.has(element)) continue;
      const isOther = name !== "ply-line" && name !== "pgn";
      others.set(element, isOther);
      if (!isBaked(element)) near(element);
      isMore ||= isOther;
    }
    // With the first lesson all of them come, wherever they are. A failure is told by each in sight.
    if (isMore) customElements.whenDefined("ply-line").then(loadMore).catch(() => {});
  };
  const later = new MutationObserver(look);
  later.observe(document, { childList: true, subtree: true });
  look();
  heedReader(async (element) => (await loadFor(element))?.draw(element));
  // `[Prose "yes"]`: in the article around a lesson its moves are linked. That module also loads counts, answers,
  // assessments and talks, and what shows figures that a comment quotes; and it lets the games of a text follow lessons.
  page.addEventListener("ply-ready", (event) => {
    const [line] = event.composedPath();
    // Other elements than lessons are read only where it is loaded.
    const isMore = line.matches("[counts],[answers],[assessments]") || /Counts[: ]|Hear:|\[A(nsw|sse)|Prose\s+"y|[\d*]\s+\[\w+ "/.test(line.text);
    if (isMore) loadMore().catch((error) => fail(line, "noStill", error));
  });
  // A place in the address is shown wherever its lesson is. A lesson that cannot be loaded says so
  // in its own place.
  const follow = () => location.hash.includes("/") && load().catch(() => {});
  addEventListener("hashchange", follow);
  follow();
}

// The element is not yet defined: its content stays as it was written.
function fail(element, name, error) {
  const message = `${ownUnloaded(element, name)} (${error.message ?? error})`;
  tellFailed(element, element.id, "core", message);
}

define();
