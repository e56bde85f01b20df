// How the site wants dark squares drawn; CSS cannot ask for the value of a custom property.

/** Gives an element the state `hatched` where `--ply-square` says so, and takes it elsewhere. */
export function findSquares(element, { states }) {
  const wanted = getComputedStyle(element).getPropertyValue("--ply-square").trim();
  if (wanted === "hatch") states.add("hatched");
  else states.delete("hatched");
}
