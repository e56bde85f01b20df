// Attributes as properties.

/** Has the attributes that a class observes read and written as properties too; returns the class. */
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
