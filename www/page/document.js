// The page's document, whatever its elements are called: `<img name="querySelector">`, which a site
// may let its readers write, hides the method of that name.

/** A document whose methods are taken from its class. */
export function safe(document) {
  const get = (target, name) => {
    const value = Reflect.get(Document.prototype, name, target);
    return typeof value === "function" ? value.bind(target) : value;
  };
  return new Proxy(document, { get });
}

/** The page's own; nothing where there is no page. */
export const page = globalThis.document && safe(document);

/** The elements of a selector in the tree that an element is in. */
export function allAround(element, selector) {
  const root = element.getRootNode();
  return [...((root instanceof Document ? safe(root) : root).querySelectorAll?.(selector) ?? [])];
}
