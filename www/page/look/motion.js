// Motion on the page around a lesson: its pieces, its reader's focus, the page itself.

import { page } from "../document.js";

/** A short motion of the moved pieces; none for readers who want none. Four numbers a piece: its place, and where it came from, relative to that
    place. It begins before the next frame is painted: Firefox keeps what was set in motion and
    removed before it was painted. */
export function slide(root, slides) {
  if (matchMedia("(prefers-reduced-motion: reduce)").matches) return;
  requestAnimationFrame(() => {
    for (let at = 0; root.isConnected && at + 3 < slides.length; at += 4) {
      const [x, y, dx, dy] = slides.slice(at, at + 4);
      const piece = root.querySelector(`.pieces > use[x="${x}"][y="${y}"]`);
      piece?.animate([{ transform: `translate(${dx}px, ${dy}px)` }, { transform: "none" }], {
        duration: 140,
        easing: "ease-out",
      });
    }
  });
}

/** On narrow pages the part under the board covers text, but must not cover what a key leads to. */
export function uncover(root) {
  root.addEventListener("focusin", ({ target }) => {
    const byKey = target.matches(":focus-visible");
    root.querySelector(".under")?.classList.toggle("away", byKey && !target.closest(".margin"));
    // Firefox leaves the map outside the window where the column beside the text is higher.
    if (byKey && target.matches(".mapbox")) target.scrollIntoView({ block: "nearest" });
  });
}

/** Makes the present elements follow changes of the page. */
export function heedPage(present) {
  if (!globalThis.matchMedia) return;
  const all = (call) => () => present.forEach(call);
  const repaper = all((one) => one.repaper());
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", repaper);
  // WebKit checks the conditions of an adopted sheet again only when it is adopted again.
  matchMedia("(prefers-reduced-motion: reduce)").addEventListener("change", all((one) => one.redress()));
  // A class on the page may change its ink, which ends a transition of ours (css/host.css),
  // and its paper may fade to another.
  page.addEventListener("transitionend", ({ propertyName }) => /^(?:background-)?color$/.test(propertyName) && repaper());
  addEventListener("beforeprint", all((one) => one.print(true)));
  addEventListener("afterprint", all((one) => one.print(false)));
}
