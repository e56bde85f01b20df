// The core as a text in a script: in plyline.js, which so works from disk, behind wrong MIME types, in
// sandboxed frames and under a strict policy, and in plyline-packed.mjs, for bundlers and for Node.

// It comes first: gzip writes tables for stretches of a file, and one table for that text and
// script together is worse than one for each.
import deflated from "plyline-core-deflated";
import { unsorted } from "../../pack/unsort.mjs";
import { inflated } from "./inflate.js";

/** A promise of the core's module. */
export async function compiled() {
  // In a task of its own: on a slow processor the script before it has taken long enough.
  await new Promise((done) => setTimeout(done));
  return WebAssembly.compile(await unsorted(new Uint8Array(await inflated(deflated))));
}
