// The signs of a move in two rows, one of each row at most, named by the words of the PGN standard of 1994, section 10.

import { el, word } from "./parts.js";

const MOVE = [
  [1, "!", "good move"], [2, "?", "poor move"], [3, "!!", "very good move"], [4, "??", "very poor move"],
  [5, "!?", "speculative move"], [6, "?!", "questionable move"], [7, "□", "forced move"],
];
const POSITION = [
  [10, "=", "even"], [13, "∞", "unclear"], [14, "+=", "White stands slightly better"], [15, "=+", "Black stands slightly better"],
  [16, "±", "White stands better"], [17, "∓", "Black stands better"], [18, "+−", "White has a decisive advantage"], [19, "−+", "Black has a decisive advantage"],
];

/** The rows, with the move's own signs pressed; `choose` is called with all glyphs that the move is to have. */
export function signs(nags, choose) {
  const row = (name, list) =>
    el(
      "div",
      { class: "signs", role: "group", "aria-label": name },
      ...list.map(([nag, sign, meaning]) => {
        const isThere = nags.includes(nag);
        const others = nags.filter((it) => !list.some(([one]) => one === it));
        return word(el("span", { "aria-hidden": "true" }, sign), () => choose(isThere ? others : [...others, nag]), { pressed: isThere, title: meaning, "aria-label": `${sign} ${meaning}` });
      }),
    );
  return el("div", {}, row("Signs of the move", MOVE), row("Signs of the position", POSITION));
}
