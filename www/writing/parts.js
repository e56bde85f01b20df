// Small helpers to make elements.

/** An element with attributes, listeners (`onclick`) and what it holds. */
export function el(name, given = {}, ...held) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(given)) {
    if (key.startsWith("on")) element.addEventListener(key.slice(2), value);
    else if (value !== undefined && value !== false) element.setAttribute(key, value === true ? "" : value);
  }
  element.append(...held.filter((it) => it !== null && it !== undefined));
  return element;
}

/** A word that does something. `pressed` is there for one that is on or off. */
export const word = (text, does, { pressed, ...more } = {}) =>
  el("button", { type: "button", onclick: does, "aria-pressed": pressed === undefined ? undefined : String(pressed), ...more }, text);

/** `1 move`, `2 moves`. */
export const count = (number, one, several = `${one}s`) => `${number} ${number === 1 ? one : several}`;

/** A run of moves with their numbers, from the move that is the `from`-th half-move of a lesson that begins with this FEN. */
export function numbered(moves, fen, from = 0) {
  const [, turn, , , , full = "1"] = fen.split(" ");
  const first = Number(full) * 2 - (turn === "b" ? 1 : 2);
  return moves
    .map((san, at) => {
      const half = first + from + at;
      const number = Math.floor(half / 2) + 1;
      if (half % 2 === 0) return `${number}.${san}`;
      return at === 0 ? `${number}...${san}` : san;
    })
    .join(" ");
}

/**
 * Puts these elements into a place, whose focus stays at the word that had it. Without `always` nothing is done where they look as
 * those that are there: these stay under a finger that is about to press them.
 */
export function redraw(place, held, always = false) {
  const wanted = held.filter(Boolean);
  const looks = (list) => [...list].map((it) => `${it.textContent} ${it.ariaPressed}`).join("\n");
  if (!always && looks(place.children) === looks(wanted)) return;
  const was = place.getRootNode().activeElement;
  const name = (it) => it.textContent.split(/[ :]/)[0];
  place.replaceChildren(...wanted);
  if (was && !was.isConnected) [...place.querySelectorAll("button")].find((it) => name(it) === name(was))?.focus({ preventScroll: true });
}
