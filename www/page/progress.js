// What recall keeps of positions: in the page, and on the reader's device once they ask for it.
// Nothing is sent, and nothing names the reader. Every write first merges what is stored, and every
// tab merges what another writes, so that two tabs lose nothing of each other.

const here = new Map(); // key -> text, while the page is open

/** The number of the reader's own calendar day, from 0 on 1 January 1970. */
export function today() {
  const now = new Date();
  return Date.UTC(now.getFullYear(), now.getMonth(), now.getDate()) / 864e5;
}

/** The name under which progress is kept: that of the site's series of lessons, else of the page. */
export function keyOf(element) {
  const series = element.closest("[data-plyline-series]")?.dataset.plylineSeries;
  return `plyline-recall:${series ?? location.pathname}`;
}

/** What is kept on the device; null if nothing is, or nothing can be. */
export function stored(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

/**
 * Merges what is known, in the page and on the device, and writes all of it if the reader wants it
 * kept.
 * @param text what is kept on the device, or null
 * @param learn takes up a text, and returns everything as text, or the reason why it cannot
 * @param keep whether the reader wants it kept from now on
 * @returns {{ kept: boolean, note: string }} whether it is kept, and the name of a sentence
 */
export function exchange(key, text, learn, keep) {
  let note = "";
  learn(here.get(key) ?? "");
  let all = learn(text ?? "");
  let kept = keep || text !== null;
  try {
    if (all === "corrupt") {
      // It still belongs to the reader, and perhaps a newer browser or a person can read it.
      note = "storeCorrupt";
      let aside = `${key}:aside`;
      while (localStorage.getItem(aside) !== null) aside += "+";
      localStorage.setItem(aside, text);
      all = learn("");
    } else if (all === "newer") {
      note = "storeNewer";
      kept = false;
      all = learn("");
    }
    if (!all.startsWith("{")) throw all;
    here.set(key, all);
    if (kept && all !== text) localStorage.setItem(key, all);
  } catch {
    note = "notKept"; // denied, or full
    kept = false;
  }
  return { kept, note };
}

/** Forgets it, in the page and on the device. */
export function forget(key) {
  here.delete(key);
  try {
    localStorage.removeItem(key);
  } catch {
    // Nothing can be kept there.
  }
}
