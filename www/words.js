// What the element says when the core, which holds all other words, cannot be asked. A
// language's file may hold the same names.

export const words = {
  noCore: "The interactive board could not be loaded; the moves are below as they were written",
  noSource: "The moves could not be loaded",
  noNotation: "the answer is a web page",
  noText: "There is no lesson here yet: put the moves in a pre element or name a file in src",
  trapped: "This lesson could not be shown any further; the moves are below as they were written",
};
