// Opens the core, which is in the script itself, so that the script works from disk, behind wrong
// MIME types, in sandboxed frames and under a strict policy.

// The core comes first: gzip writes tables for stretches of a file, and one table for base64 and
// script together is worse than one for each.
import deflated from "plyline-core-deflated";
import { __wbg_reset_state, mount, readLesson, start } from "plyline-glue";
import { unsorted } from "../../pack/unsort.mjs";

/** Returns a promise of the core: { mount, readLesson, reset }. */
export async function open() {
  // Without that function of the browser, letter by letter takes 10 ms.
  const bytes = Uint8Array.fromBase64?.(deflated) ?? Uint8Array.from(atob(deflated), (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  const packed = new Uint8Array(await new Response(stream).arrayBuffer());
  await start(await WebAssembly.compile(await unsorted(packed)));
  return { mount, readLesson, reset: __wbg_reset_state };
}
