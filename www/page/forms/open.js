// Opens the core, which is in the script itself, so that the script works from disk, behind wrong
// MIME types, in sandboxed frames and under a strict policy.

// The core comes first: gzip writes tables for stretches of a file, and one table for that text and
// script together is worse than one for each.
import deflated from "plyline-core-deflated";
import { __wbg_reset_state, mount, readLesson, start } from "plyline-glue";
import { bytesOf } from "../../pack/written.mjs";
import { unsorted } from "../../pack/unsort.mjs";

/** Returns a promise of the core: { mount, readLesson, reset }. */
export async function open() {
  const stream = new Blob([bytesOf(deflated)]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  const packed = new Uint8Array(await new Response(stream).arrayBuffer());
  await start(await WebAssembly.compile(await unsorted(packed)));
  return { mount, readLesson, reset: __wbg_reset_state };
}
