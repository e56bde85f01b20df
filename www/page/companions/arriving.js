// A reader comes by a link to a place of a lesson: its board is there first, then its text, in turns with painting; and
// where the page has no such lesson, that is said.

import { page, painted } from "plyline-shared";

/** Draws the board, brings it into sight, and draws the text in turns with painting. */
export async function drawInTurns(reading) {
  if (reading.isDrawn || reading.root) return; // a baked page is there at once
  await painted();
  for (let parts = 0; !parts || reading.made; parts += parts + 4) {
    reading.draw(true, parts);
    const text = reading.root?.querySelector(".lines");
    if (!text) return;
    if (!parts) reading.reveal();
    text.style.minBlockSize = "200vh"; // nothing that comes after it is seen and pushed away
    await painted();
  }
  reading.root.querySelector(".lines").removeAttribute("style");
}

let told = ""; // the address that was said to name no lesson

/** Lets the first lesson say that the address names a place in one that the page does not have. */
export function heedLost(runtime) {
  const tell = async () => {
    // Without a move's number it may be an address of the page's own.
    const [, id, run] = /^#([^/]+)\/(\d+\..*)/.exec(location.hash) ?? [];
    const reading = id && runtime.of(page.querySelector("ply-line"));
    if (!reading?.mounted || told === location.hash || page.getElementById(id)) return;
    told = location.hash;
    reading.miss(`${id}/${run}`);
    await drawInTurns(reading);
    reading.reveal();
  };
  page.addEventListener("ply-ready", tell);
  addEventListener("hashchange", tell);
}
