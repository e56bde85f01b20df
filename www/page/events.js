// What an element tells the page and its author.

import { page } from "./document.js";

/** An event of ours, with plain data. */
export function send(element, type, detail) {
  element.dispatchEvent(new CustomEvent(type, { detail, bubbles: true, composed: true }));
}

/** Nothing can be shown: reported on the console, with a name, and to the page. */
export function tellFailed(element, name, reason, message) {
  console.error(`plyline${name && ` ${name}`}: ${message}`);
  send(element, "ply-failed", { reason, message });
}

/** Shows a sentence, if there is one, and below it what the element holds. */
export function showFailed(root, sentence) {
  const told = page.createElement("p");
  told.className = "failed";
  told.textContent = sentence;
  root.replaceChildren(...(sentence ? [told] : []), page.createElement("slot"));
}

/** Whether the author wants to see what is found. */
export function isDebugged(element) {
  return element.closest('[data-plyline~="debug"]') !== null;
}
