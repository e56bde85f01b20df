// The one-file form: a classic script with everything inside, so that it works from disk,
// behind wrong MIME types, in sandboxed frames and under a strict policy.

// The core stands first: gzip writes tables for stretches of a file, and one for letters of base64
// and of script together is worse than one for each.
import wasm from "plyline-wasm-deflated";
import { __wbg_reset_state, mount, readLesson, start } from "plyline-glue";
import css from "plyline-style";
import { makePlyline } from "./define.js";

// esbuild puts the version of Cargo.toml here.
/* global PLYLINE_VERSION */

async function load() {
  const deflated = Uint8Array.from(atob(wasm), (letter) => letter.charCodeAt(0));
  const stream = new Blob([deflated]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  const bytes = await new Response(stream).arrayBuffer();
  await start(await WebAssembly.compile(bytes));
  return { mount, readLesson, reset: __wbg_reset_state };
}

const plyline = makePlyline(load, css, PLYLINE_VERSION);
globalThis.plyline ??= plyline;
plyline.define();
