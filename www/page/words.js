// What the element says when the core, which holds all other words, cannot be asked. A
// language's file may hold the same names.

// Where something cannot be loaded; the entry (forms/entry.js) carries these alone.
const unloaded = {
  noCore: "The interactive board could not be loaded.",
  noStill: "What belongs here could not be loaded.",
};

const words = {
  below: "The moves are below as they were written.",
  noSource: "The moves could not be loaded",
  noNotation: "the answer is a web page",
  noAnswer: "no answer yet",
  noText: "There is no lesson here yet: put the moves in a pre element or name a file in src",
  trapped: "This lesson could not be shown any further.",
};

/** The texts of the nearest language; none for English. */
function textsOf(element) {
  const language = element.closest("[lang]")?.lang.toLowerCase() ?? "";
  const known = globalThis.plylineWords ?? {};
  return known[language] ?? known[language.split("-")[0]] ?? {};
}

/** The same for the core: names and texts in turn, in one text. */
export function wordsOf(element) {
  return Object.entries(textsOf(element)).flat().join("\0");
}

/** A text that the core cannot be asked for. */
export function own(element, name) {
  return ownUnloaded(element, name) ?? words[name];
}

/** The same for what cannot be loaded. */
export function ownUnloaded(element, name) {
  return textsOf(element)[name] ?? unloaded[name];
}
