// Loaded before plyline.js: writes down every event of a lesson, as it reaches the
// document, which names the page had, and how many entries of the history were made.
globalThis.before = new Set(Object.getOwnPropertyNames(globalThis));
globalThis.told = [];
for (const type of ["ply-ready", "ply-moved", "ply-answered", "ply-settled", "ply-failed"]) {
  document.addEventListener(type, (event) => {
    const { detail, bubbles, composed } = event;
    told.push({ type, id: event.target.id, detail, bubbles, composed });
  });
}
// Counts the entries that the script makes in the history: a browser keeps some fifty of a tab, and
// counts no further.
globalThis.entries = 0;
const { pushState } = history;
history.pushState = function (...given) {
  pushState.apply(this, given);
  entries += 1;
};
