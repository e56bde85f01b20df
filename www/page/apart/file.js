// Files about a lesson, of counts and of assessments.

/** The four fields of a FEN that say what the position is. */
export const four = (fen) => fen.split(" ").slice(0, 4).join(" ");

/**
 * Reads one.
 * @param kind what it says it is, before its version
 */
export async function fetchFile(url, kind) {
  const answer = await fetch(url, { credentials: "omit" });
  if (!answer.ok) throw new Error(`${answer.status} ${answer.statusText}`.trim());
  const file = await answer.json();
  if (!new RegExp(`^${kind} 1\\b`).test(file?.plyline)) throw new Error(`this version reads "${kind} 1", and it is "${file?.plyline}"`);
  return file;
}
