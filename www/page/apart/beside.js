// Modules that are files beside the script, in both of its forms.

import { page } from "plyline-shared";

// A classic script knows its own address while it is run for the first time; one that is written in the page has none.
const from = page?.currentScript?.src || import.meta.url;

/** Loads one; nothing where the page is opened from disk, from where no module may be loaded. */
export const beside = globalThis.location?.protocol !== "file:" && ((name) => import(new URL(name, from)));
