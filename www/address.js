// Where the reader is, kept in the page's address as `#ID/RUN`, and followed from there. Every
// call may fail (sandboxed frames, too many in a row) and is then forgotten: an address is a
// convenience.

// Milliseconds between two writings: WebKit throws at the 101st in ten seconds.
const PAUSE = 500;

let last = 0;
let waiting = null;

/** The lesson and the run that the page's address names; none where it names neither. */
export function addressed() {
  const [id, ...run] = location.hash.slice(1).split("/");
  try {
    return { id: decodeURIComponent(id), run: decodeURIComponent(run.join("/")) };
  } catch {
    return { id: "", run: "" }; // a fragment of someone else's
  }
}

/** `#ID/RUN`, percent-encoded where an address needs it. */
export function fragment(id, run) {
  const part = (text) => encodeURIComponent(text).replaceAll("%3D", "=");
  return run ? `#${part(id)}/${part(run)}` : `#${part(id)}`;
}

/** Writes where a lesson is. A jump is a step of the page's history of its own. */
export function write(id, run, jump) {
  clearTimeout(waiting);
  const set = () => {
    last = performance.now();
    const { pathname, search } = location;
    try {
      // Path and query too: a bare `#` would lead to the address that <base> names.
      history[jump ? "pushState" : "replaceState"](history.state, "", pathname + search + fragment(id, run));
    } catch {
      // Forgotten.
    }
  };
  const rest = last + PAUSE - performance.now();
  if (jump || rest <= 0) set();
  else waiting = setTimeout(set, rest);
}
