// In which letters a lesson shows its moves, for the cores that write moves of their own.

/** The codes that may say it, the first that is known first, with a NUL between them. */
export const lettersOf = (line) =>
  [line.getAttribute("letters"), line.lesson?.tags.Letters, line.closest("[lang]")?.lang].filter(Boolean).join("\0");
