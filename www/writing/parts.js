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
