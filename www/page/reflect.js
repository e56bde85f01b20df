// Attributes as properties, and as data for the core.

/** Makes the observed attributes of a class properties too; returns the class. */
export function reflect(element) {
  for (const name of element.observedAttributes) {
    Object.defineProperty(element.prototype, name === "for" ? "htmlFor" : name, {
      get() {
        return name === "remember" ? this.hasAttribute(name) : this.getAttribute(name);
      },
      set(value) {
        if (value === null || value === undefined || value === false) this.removeAttribute(name);
        else this.setAttribute(name, value === true ? "" : value);
      },
      configurable: true,
      enumerable: true,
    });
  }
  return element;
}

/** What is written on an element: the values of its attributes by their names. */
export function written({ attributes }) {
  return Object.fromEntries([...attributes].map(({ name, value }) => [name, value]));
}
