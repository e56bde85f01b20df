// Modules that are files beside plyline-more.mjs, in the place of beside.js: each by a name that a bundler sees, so that it
// takes the file along and lets it share plyline-core.mjs.

const MODULES = {
  "plyline-counts.mjs": () => import("./plyline-counts.mjs"),
  "plyline-answers.mjs": () => import("./plyline-answers.mjs"),
  "plyline-talk.mjs": () => import("./plyline-talk.mjs"),
};

/** Loads one. */
export const beside = (name) => MODULES[name]();
