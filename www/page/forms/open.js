// Starts the core, wherever it comes from.

import { __wbg_reset_state, mount, readLesson, start } from "plyline-glue";

/**
 * A function that returns a promise of the core: { mount, readLesson, reset }.
 * @param compiled returns a promise of its module
 */
export const opener = (compiled) => async () => {
  await start(await compiled());
  return { mount, readLesson, reset: __wbg_reset_state };
};
