// In which letters a lesson shows its moves, for the cores that write moves of their own.

/** The code of the language; nothing where the page names none. */
export const lettersOf = (line) => line.getAttribute("letters") ?? line.lesson?.tags.Letters ?? line.closest("[lang]")?.lang;
