// What is deflated and written as a text in a script, as bytes again.

import { bytesOf } from "../../pack/written.mjs";

/** The bytes that a text of the build holds (www/pack/written.mjs); a promise. */
export function inflated(text) {
  const { readable, writable } = new DecompressionStream("deflate-raw");
  // By a writer: a Blob's stream waits for the page's other work again and again. What fails here fails
  // for the reader too, who tells it.
  const writer = writable.getWriter();
  writer.write(bytesOf(text)).catch(() => {});
  writer.close().catch(() => {});
  return new Response(readable).arrayBuffer();
}
