// Opens a core that is in a module of its own, as the one that draws counts. Each module has a copy of this.

import deflated from "plyline-core-deflated";
import { __wbg_reset_state, start } from "plyline-glue";
import { inflated } from "../forms/inflate.js";

let opening = null;

/** Starts it; a promise. Where that fails the next that asks tries again. */
export function open() {
  return (opening ??= begin().catch((error) => {
    opening = null;
    throw error;
  }));
}

async function begin() {
  await start(await WebAssembly.compile(await inflated(deflated)));
}

/** The result of a call into it; nothing where it traps, which ends that instance. */
export function guarded(call) {
  try {
    return call();
  } catch (error) {
    __wbg_reset_state();
    console.error(`plyline: ${error.message}`);
    return undefined;
  }
}
