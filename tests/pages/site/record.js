// Loaded before plyline.js: writes down every event of a lesson, as it reaches the
// document, and which names the page had.
globalThis.before = new Set(Object.getOwnPropertyNames(globalThis));
globalThis.told = [];
for (const type of ["ply-ready", "ply-moved", "ply-answered", "ply-settled", "ply-failed"]) {
  document.addEventListener(type, (event) => {
    const { detail, bubbles, composed } = event;
    told.push({ type, id: event.target.id, detail, bubbles, composed });
  });
}
