// What all our elements are to a page: it holds something that does its work, out of the reach of the
// page's scripts (runtime.js keeps it), and tells it what becomes of the element.

const Base = globalThis.HTMLElement ?? class {};

/** The class that all extend; each hands it the class of what does its work. */
export function makeHeld(runtime) {
  const of = (element) => runtime.of(element);

  return class PlyHeld extends Base {
    constructor(Worker) {
      super();
      runtime.hold(this, new Worker(this, runtime));
    }

    connectedCallback() {
      of(this).connected();
    }
    disconnectedCallback() {
      of(this).disconnected();
    }
    // Moved by moveBefore: nothing to do, and nothing to undo.
    connectedMoveCallback() {}
    attributeChangedCallback(name, before, value) {
      if (before !== value) of(this).changed(name, value);
    }

    get ready() {
      return of(this).ready;
    }
    get findings() {
      return of(this).findings;
    }
  };
}
