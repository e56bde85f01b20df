// Everything: the whole of the one-file form, so that it works from disk, behind wrong MIME types, in
// sandboxed frames and under a strict policy; and the large module of the two-file form, which `entry.js`
// loads when it is wanted.

// The core comes first: gzip writes tables for stretches of a file, and one table for base64 and
// script together is worse than one for each.
import deflated from "plyline-core-deflated";
import { __wbg_reset_state, mount, readLesson, start } from "plyline-glue";
import css from "plyline-style";
import { makePlyline } from "./define.js";
import { unsorted } from "../pack/unsort.mjs";

// esbuild puts the version of Cargo.toml here.
/* global PLYLINE_VERSION */

async function load() {
  // Without that function of the browser, letter by letter takes 10 ms.
  const bytes = Uint8Array.fromBase64?.(deflated) ?? Uint8Array.from(atob(deflated), (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  const packed = new Uint8Array(await new Response(stream).arrayBuffer());
  await start(await WebAssembly.compile(await unsorted(packed)));
  return { mount, readLesson, reset: __wbg_reset_state };
}

export const plyline = makePlyline(load, css, PLYLINE_VERSION);
// An element with that id is not our property.
if (!Object.hasOwn(globalThis, "plyline")) globalThis.plyline = plyline;
plyline.define();
