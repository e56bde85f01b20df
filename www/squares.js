// What CSS cannot ask for or say: the value of a custom property, the background behind an
// element, how wide it is.

/** Gives an element the state `hatched` where `--ply-square` says so, and takes it elsewhere. */
export function findSquares(element, { states }) {
  const wanted = getComputedStyle(element).getPropertyValue("--ply-square").trim();
  if (wanted === "hatch") states.add("hatched");
  else states.delete("hatched");
}

/** The paper behind an element: the nearest background that can be seen. */
export function findPaper(element) {
  for (let at = element; at; at = at.parentElement ?? at.getRootNode().host) {
    const { backgroundColor } = getComputedStyle(at);
    if (/^rgb\(|^color\([^/]*\)$|^ok|^lab|^lch/.test(backgroundColor)) return backgroundColor;
  }
  return "Canvas";
}

/** Whether an element has no room for a map beside its text: css/wide.css says the same. */
export function isNarrow(element) {
  const rem = parseFloat(getComputedStyle(document.documentElement).fontSize);
  return element.clientWidth < 46 * rem;
}
