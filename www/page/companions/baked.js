// What baking wrote into a page for readers without script, and what is the author's beside it.

/** Its selector. */
export const BAKED = '[data-plyline=""]';

/** The nodes that an author put into an element, but for comments. */
export function ownNodes({ childNodes }) {
  return [...childNodes].filter((node) => node.nodeType !== Node.COMMENT_NODE && !node.matches?.(BAKED));
}
