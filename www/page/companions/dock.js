// Where a lesson's board is while a reader follows moves that are named in sentences: in its place
// while that is in sight, else at the edge of the window, in the top layer, because the element is a
// container and would hold what is fixed inside it.

// Pixels between the board, the links that it must not cover, and the window's edge.
const GAP = 8;

let away = null; // the board that has left its place: { reading, margin, lesson, link }

/** The paragraph that a link is in. */
export function paragraphOf(link) {
  let at = link.parentElement;
  while (/^(?:inline|contents)/.test(getComputedStyle(at).display) && at.parentElement) at = at.parentElement;
  return at;
}

function isSeen(margin) {
  const { top, bottom, height } = margin.querySelector(".plate").getBoundingClientRect();
  return height > 0 && top >= 0 && bottom <= innerHeight;
}

/** After a link has moved a lesson: its board is in sight, and covers neither the link nor the next ones. */
export function keepSeen(reading, link) {
  reading.draw();
  const margin = reading.root?.querySelector(".margin");
  if (!margin?.showPopover) return;
  if (away?.margin !== margin) comeBack();
  if (!away && isSeen(margin)) return;
  leave(reading, margin, link);
  uncover();
}

function leave(reading, margin, link) {
  const lesson = margin.parentElement;
  if (margin.popover) margin.popover = null;
  else {
    // Its place is kept, so that no text moves.
    const { gridTemplateColumns, gridTemplateRows } = getComputedStyle(lesson);
    if (gridTemplateColumns.includes(" ")) lesson.style.minBlockSize = `${lesson.offsetHeight}px`;
    else lesson.style.gridTemplateRows = `auto auto ${gridTemplateRows.split(" ")[2]}`;
  }
  margin.popover = "manual";
  margin.showPopover({ source: link }); // Tab leads from the link to the board where that is known
  away = { reading, margin, lesson, link };
}

// Scrolls so that the link and the next ones of its paragraph are above the board, the link at least.
// At the end of the page, where that cannot be done, the board is at the other edge.
function uncover() {
  const { margin, link } = away;
  margin.classList.remove("up");
  const links = [...paragraphOf(link).querySelectorAll("a")];
  const last = links.slice(links.indexOf(link)).at(-1);
  const covered = () => last.getBoundingClientRect().bottom + GAP - margin.getBoundingClientRect().top;
  const first = link.getClientRects()[0].top - GAP;
  const wanted = Math.min(covered(), first);
  if (wanted <= 0) return;
  const before = scrollY;
  scrollBy({ top: wanted, behavior: "instant" });
  if (scrollY - before < wanted - 1) margin.classList.add("up");
}

/** The board goes back to its place, and the focus in it to the link. */
export function comeBack() {
  if (!away) return;
  const { reading, margin, lesson, link } = away;
  away = null;
  const hadFocus = margin.contains(reading.root.activeElement);
  margin.classList.remove("up");
  margin.popover = null;
  lesson.removeAttribute("style");
  if (hadFocus) link.focus({ preventScroll: true });
}

/** The board's place may be another, in sight or not. */
export function settle() {
  if (!away) return;
  const { reading, margin, link } = away;
  comeBack();
  if (margin.isConnected && !isSeen(margin)) leave(reading, margin, link);
}

// Its place is in sight again, or the element is gone.
function look() {
  if (!away) return;
  const { top, bottom } = away.lesson.querySelector(".lines").getBoundingClientRect();
  if (!away.margin.isConnected || (top < innerHeight * 0.6 && bottom > innerHeight * 0.4)) comeBack();
}

/** Follows the reader. */
export function heedDock() {
  addEventListener("scroll", look, { passive: true });
  // Another width may have room beside the text.
  addEventListener("resize", settle);
  addEventListener(
    "keydown",
    ({ key }) => {
      // The piece in hand and the answer come first.
      if (key === "Escape" && !away?.margin.querySelector("[aria-selected], .promotion, .notice")) comeBack();
    },
    true,
  );
}
