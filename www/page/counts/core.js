// Opens what draws counts: a core of its own, which is in plyline-counts.mjs.

import deflated from "plyline-core-deflated";
import { start } from "plyline-glue";

export { drawCounts, quoteCounts, sayCounts } from "plyline-glue";

let opening;

/** Starts it; a promise. */
export function open() {
  return (opening ??= begin());
}

async function begin() {
  const bytes = Uint8Array.from(atob(deflated), (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  await start(await WebAssembly.compile(await new Response(stream).arrayBuffer()));
}
