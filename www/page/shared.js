// What the elements of more.js take from the rest of the script. plyline-core.mjs exports it and
// plyline-more.mjs imports it from there, so that a page has each of these once, and their state
// too: the queue of turns.js, the steps that address.js has still to write.

export { addressOf } from "./address.js";
export { allAround, page, safe } from "./document.js";
export { makeHeld } from "./elements/held.js";
export { Reading } from "./elements/reading.js";
export { upgradeFences } from "./elements/fences.js";
export { isDebugged, showFailed, tellFailed } from "./events.js";
export { findSquares } from "./look/paper.js";
export { reflect, written } from "./reflect.js";
export { reasonOf, save } from "./source.js";
export { inTurn } from "./turns.js";
export { own, wordsOf } from "./words.js";
