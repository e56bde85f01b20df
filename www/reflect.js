// Attributes as properties.

/** Has the attributes that a class observes read and written as properties too; returns the class. */
export function reflect(element) {
  for (const name of element.observedAttributes) {
    Object.defineProperty(element.prototype, name === "for" ? "htmlFor" : name, {
      get() {
        return this.getAttribute(name);
      },
      set(value) {
        if (value === null || value === undefined) this.removeAttribute(name);
        else this.setAttribute(name, value);
      },
      configurable: true,
      enumerable: true,
    });
  }
  return element;
}
