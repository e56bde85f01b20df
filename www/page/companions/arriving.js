// A reader comes by a link to a place of a lesson that the page does not have: that is said.

import { page } from "plyline-shared";

let told = ""; // the address that was said to name no lesson

/** Lets the first lesson say that the address names a place in one that the page does not have. */
export function heedLost(runtime) {
  const tell = () => {
    // Without a move's number it may be an address of the page's own.
    const [, id, run] = /^#([^/]+)\/(\d+\..*)/.exec(location.hash) ?? [];
    const reading = id && runtime.of(page.querySelector("ply-line"));
    if (!reading?.mounted || told === location.hash || page.getElementById(id)) return;
    told = location.hash;
    reading.miss(`${id}/${run}`);
    reading.reveal();
  };
  page.addEventListener("ply-ready", tell);
  addEventListener("hashchange", tell);
}
