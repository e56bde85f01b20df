// Loaded between two copies of plyline.js: remembers what the first one made.
globalThis.first = { plyline: globalThis.plyline, element: customElements.get("ply-line") };
