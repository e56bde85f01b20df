// What the element says when the core, which holds all other words, cannot be asked.

export const words = {
  core: "The interactive board could not be loaded; the moves are below as they were written",
  source: "The moves could not be loaded",
  page: "the answer is a web page",
  empty: "There is no lesson here yet: put the moves in a pre element or name a file in src",
  trap: "This lesson could not be shown any further; the moves are below as they were written",
};
