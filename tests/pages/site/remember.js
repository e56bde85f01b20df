// Loaded after a baked element and before plyline.js: remembers every node of its shadow root,
// writes down what is added to it, and what the page shifts.
const { shadowRoot } = document.querySelector("ply-line");
globalThis.baked = {
  added: [],
  shifts: [],
  nodes: (function nodesOf(node) {
    return [...node.childNodes].flatMap((child) => [child, ...nodesOf(child)]);
  })(shadowRoot),
};
new MutationObserver((records) => {
  for (const { addedNodes } of records) baked.added.push(...[...addedNodes].map((node) => node.nodeName));
}).observe(shadowRoot, { childList: true, subtree: true });
if (PerformanceObserver.supportedEntryTypes.includes("layout-shift")) {
  new PerformanceObserver((list) => {
    baked.shifts.push(...list.getEntries().map((entry) => entry.value));
  }).observe({ type: "layout-shift", buffered: true });
}
