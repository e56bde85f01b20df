// What CSS cannot ask for: the value of a custom property, and the background behind an element.

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
