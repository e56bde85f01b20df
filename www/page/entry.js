// The small module of the two-file form. It loads the rest when one of our elements, or a fence
// that becomes one, nears the view, or when a script asks for it.

import { page } from "./document.js";
import { tellFailed } from "./events.js";
import { fenceName } from "./elements/fences.js";
import { whenNear, whenParsed } from "./turns.js";
import { own } from "./words.js";

// esbuild puts the version of Cargo.toml here.
/* global PLYLINE_VERSION */

let loading = null;
// A failed load is tried again by the next that asks.
const load = () =>
  (loading ??= import("./plyline-core.mjs").catch((error) => {
    loading = null;
    throw error;
  }));

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
  const seen = new WeakSet();
  const near = whenNear(async (element) => {
    try {
      await load();
      later.disconnect();
    } catch (error) {
      fail(element, error);
    }
  });
  const look = () => {
    for (const element of page.querySelectorAll(":not(:defined), pre")) {
      const isOurs = element.localName.startsWith("ply-") || fenceName(element);
      if (!isOurs || seen.has(element)) continue;
      seen.add(element);
      near(element);
    }
  };
  const later = new MutationObserver(look);
  later.observe(document, { childList: true, subtree: true });
  look();
  // A place in the address is shown wherever its lesson is. A lesson that cannot be loaded says so
  // in its own place.
  const follow = () => location.hash.includes("/") && load().then(() => later.disconnect(), () => {});
  addEventListener("hashchange", follow);
  follow();
}

// The element is not yet defined: its content stays as it was written.
function fail(element, error) {
  const message = `${own(element, "noCore")} (${error.message ?? error})`;
  tellFailed(element, element.id, "core", message);
}

define();
