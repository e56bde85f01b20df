// `Hear:` paragraphs in the text of a lesson: a quiet line of times, each of which can be heard.

import { readTimes } from "./passages.js";

/**
 * Writes the times of all such paragraphs: where nothing else is in them.
 * @param page the page's document
 * @param sentence a text with `{times}`
 * @param play plays the talk from a second; nothing where it cannot be played: then the times are text
 */
export function writeTimes(page, within, sentence, play) {
  const isTold = Boolean(play);
  for (const line of within.querySelectorAll(".times")) if (line.matches(".heard") !== isTold) line.replaceWith(line.dataset.times);
  const texts = page.createTreeWalker(within, NodeFilter.SHOW_TEXT);
  const found = [];
  while (texts.nextNode()) {
    const text = texts.currentNode;
    if (!/^\s*Hear:/.test(text.data) || text.previousSibling || text.nextSibling || text.parentNode.matches(".times")) continue;
    const passages = readTimes(text.data);
    if (passages) found.push([text, passages]);
  }
  for (const [text, passages] of found) {
    const line = page.createElement("span");
    line.className = isTold ? "times heard" : "times";
    line.dataset.times = text.data;
    const [before, after] = sentence.split("{times}");
    const times = passages.flatMap(({ said, from }, at) => [at ? ", " : "", play ? button(page, said, () => play(from)) : said]);
    line.append(...[before, ...times, after].filter(Boolean));
    text.replaceWith(line);
  }
  if (play && found.length) name(within, sentence);
}

// The name of each time says the move that it is about.
function name(within, sentence) {
  let move = "";
  for (const part of within.querySelectorAll(".move, .times button")) {
    const text = part.textContent.trim();
    if (part.matches(".move")) move = `, ${text}`;
    else part.setAttribute("aria-label", sentence.replace("{times}", text) + move);
  }
}

function button(page, said, click) {
  const made = page.createElement("button");
  made.type = "button";
  made.textContent = said.replace(/\..*/, ""); // whole seconds are enough to read
  made.onclick = click;
  return made;
}
