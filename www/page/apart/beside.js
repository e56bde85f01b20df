// Modules that are files beside plyline.js. Among the modules it is named.js that loads them.

import { page } from "plyline-shared";

// A classic script knows its own address while it is run for the first time; one that is written in the page has none.
const from = page?.currentScript?.src || page?.baseURI;

/** Loads one; nothing where the page is opened from disk, from where no module may be loaded. */
export const beside = globalThis.location?.protocol !== "file:" && ((name) => import(new URL(name, from)));
