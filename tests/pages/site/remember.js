// Loaded after baked elements and before plyline.js: remembers every node of their shadow roots and where
// each element that has a box is, writes down what is added to the roots, and what the page shifts.
const roots = [...document.querySelectorAll("[data-plyline-baked]")].map(({ shadowRoot }) => shadowRoot).filter(Boolean);
const nodesOf = (node) => [...node.childNodes].flatMap((child) => [child, ...nodesOf(child)]);
const placesOf = () => {
  const parts = [...document.querySelectorAll("main, main *"), ...roots.flatMap(nodesOf)];
  const shown = parts.filter((part) => part.getClientRects?.().length && part.localName !== "script");
  return new Map(
    shown.map((part) => {
      const { x, y, width, height } = part.getBoundingClientRect();
      return [part, [x + scrollX, y + scrollY, width, height].map((number) => number.toFixed(2)).join(" ")];
    }),
  );
};
globalThis.baked = {
  added: [],
  shifts: [],
  nodes: roots.flatMap(nodesOf),
  places: placesOf(),
  // What is elsewhere now, or of another size.
  moved() {
    const now = placesOf();
    const name = ({ localName, className }) => `${localName}.${className.baseVal ?? className}`;
    return [...baked.places].flatMap(([part, place]) =>
      now.get(part) === place ? [] : [`${name(part)}: ${place} -> ${now.get(part)}`],
    );
  },
};
const watch = new MutationObserver((records) => {
  for (const { addedNodes } of records) baked.added.push(...[...addedNodes].map((node) => node.nodeName));
});
for (const root of roots) watch.observe(root, { childList: true, subtree: true });
if (PerformanceObserver.supportedEntryTypes.includes("layout-shift")) {
  new PerformanceObserver((list) => {
    baked.shifts.push(...list.getEntries().map((entry) => entry.value));
  }).observe({ type: "layout-shift", buffered: true });
}
