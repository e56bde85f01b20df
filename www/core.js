// The large module of the two-file form: everything but the core itself, which it fetches from
// beside it. `entry.js` loads it when it is wanted.

import { __wbg_reset_state, mount, readLesson, start } from "plyline-glue";
import css from "plyline-style";
import { makePlyline } from "./define.js";

// esbuild puts the version of Cargo.toml here.
/* global PLYLINE_VERSION */

async function load() {
  const answer = await fetch(new URL("plyline.wasm", import.meta.url));
  if (!answer.ok) throw new Error(`${answer.status} ${answer.url}`);
  // Compiled while it arrives, which browsers do for this type only; other servers are waited for.
  const streams = answer.headers.get("content-type") === "application/wasm";
  const core = streams ? WebAssembly.compileStreaming(answer) : WebAssembly.compile(await answer.arrayBuffer());
  await start(await core);
  return { mount, readLesson, reset: __wbg_reset_state };
}

export const plyline = makePlyline(load, css, PLYLINE_VERSION);
globalThis.plyline ??= plyline;
plyline.define();
