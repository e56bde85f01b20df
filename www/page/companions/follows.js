// A text of several games: where the game that is shown follows a lesson of the page, its text folds the moves that
// both have and says where it leaves, and the lesson names the game at that place. Each is a link to the other.

import { addressOf, own, page } from "plyline-shared";
import { isPlain } from "./lessons.js";

// Half-moves: with fewer that are shared a game does not follow a lesson.
const LEAST = 4;
// What is watched of a text that is drawn again.
const ANY = { childList: true, subtree: true };
// After the result of one game the tags of the next; forms/entry.js has the same.
const SEVERAL = /[\d*]\s+\[\w+ "/;

// A page's file of words may have the same names.
const words = {
  followsTo: "To {move} as in {lesson}, then {next}.",
  followsAll: "All of it is in {lesson}.",
  followsLesson: "the lesson",
  followsShow: "show these moves",
  followsHide: "hide these moves",
  followsGame: "also a game",
};
const say = (line, name) => own(line, name) ?? words[name];

/** A move with its number, in English SAN or as it is shown. */
function written(lesson, id, move = lesson.node(id).san) {
  const { parent } = lesson.node(id);
  const [, turn, , , , number] = lesson.node(parent).fen.split(" ");
  return number + (turn === "w" ? "." : "…") + move;
}

/** Who played, and in which year, as far as it is known. */
function named({ White, Black, Date }) {
  const players = [White, Black].filter((name) => name && name !== "?").join(" – ");
  return [players, /^\d{4}/.exec(Date)?.[0]].filter(Boolean).join(", ");
}

function make(name, className, ...content) {
  const element = page.createElement(name);
  element.className = className;
  element.append(...content);
  return element;
}

/**
 * Lets the games of a page follow its lessons.
 * @return what is to be called when a lesson is about to be drawn
 */
export function heedFollows(runtime) {
  const kept = new Map(); // a text of several games -> how the one that is shown follows a lesson
  let isAsked = false;
  const watch = new MutationObserver(() => later());

  const linesOf = (line) => runtime.of(line).root?.querySelector(".lines");
  const moveOf = (line, node) => linesOf(line)?.querySelector(`#m${node}`);
  // Once it is drawn, or baked, there is the list, or none.
  const hasSeveral = (line) => (linesOf(line) ? runtime.of(line).root.querySelector(".games") : SEVERAL.test(line.text));

  /** How far the main line of a game goes along a lesson: the nodes of the game, the last node of the
   * lesson, and the game's next node, if it has one. What waits behind a question is not told. */
  const along = (games, line) => {
    const [game, lesson] = [games.lesson, line.lesson];
    const nodes = [];
    for (let [at, node] = [0, 0]; ; nodes.push(at)) {
      const next = game.node(at).children[0];
      const uci = next && game.node(next).uci;
      const { ask, children } = lesson.node(node);
      const same = next && children.find((child) => lesson.node(child).uci === uci);
      if (!same || (ask && !moveOf(line, same))) return { games, game, line, lesson, nodes, node, next };
      [at, node] = [next, same];
    }
  };

  /** The lesson that the game follows furthest. */
  const follow = (games, lessons) => {
    let best;
    for (const line of lessons) {
      if (!line.lesson || line.lesson.start !== games.lesson?.start) continue;
      const way = along(games, line);
      if (way.nodes.length >= (best ? best.nodes.length + 1 : LEAST)) best = way;
    }
    return best && moveOf(games, best.next ?? best.nodes.at(-1)) && best;
  };

  /** Makes what is said on both sides. */
  const tell = (it) => {
    const { games, game, line, nodes, node, next } = it;
    const link = make("a", "", say(games, "followsLesson"));
    const run = written(game, nodes[0]) + nodes.slice(1).map((one) => ` ${game.node(one).san}`).join("");
    link.href = addressOf(line.id, runtime.of(line).ask((mounted) => mounted.refer(run)[1]) ?? "");
    link.onclick = (event) => {
      if (isPlain(event) && runtime.of(line).visit(node)) event.preventDefault();
    };
    const shown = (id) => {
      // In the letters of the text, where there is a number before it and signs after it: it is as long as in English.
      const text = moveOf(games, id)?.textContent.replace(/^\d+[.…]/, "");
      const move = make("bdi", "", written(game, id, text?.slice(0, game.node(id).san.length)));
      move.dir = "ltr";
      return move;
    };
    const parts = { lesson: link, move: shown(nodes.at(-1)), next: next && shown(next) };
    it.button = make("button", "to");
    it.button.type = "button";
    it.button.onclick = () => open(it, !it.isOpen);
    const sentence = say(games, next ? "followsTo" : "followsAll").split(/[{}]/);
    it.isOpen = false;
    it.told = make("section", "follows", ...sentence.map((part) => parts[part] ?? part), " ", it.button);
    const back = make("a", "", [say(line, "followsGame"), named(game.tags)].filter(Boolean).join(": "));
    back.href = addressOf(games.id, "");
    it.note = make("small", "follows", back, " ");
    return it;
  };

  /** Shows the moves that are shared, or folds them. */
  const open = (it, isOpen) => {
    const { games, next, button } = it;
    it.isOpen = isOpen;
    const text = say(games, isOpen ? "followsHide" : "followsShow");
    // What is written here is watched.
    if (button.textContent !== text) button.textContent = text;
    button.setAttribute("aria-expanded", isOpen);
    linesOf(games).classList.toggle("brief", !isOpen);
    // At the start the first move can be reached by Tab, the first one that is there.
    const move = moveOf(games, next);
    if (move && !move.matches("[aria-current]")) move.tabIndex = isOpen || games.current.node ? -1 : 0;
  };

  // A reader who comes to a move that is shared sees all of them.
  const heed = (it) => open(it, it.isOpen || linesOf(it.games).querySelector(".followed[aria-current], .followed [aria-current]") !== null);

  /** Puts it in its place on both sides. A lesson that is drawn again as a whole has lost it. */
  const put = (it) => {
    const { games, line, nodes, node, told, note } = it;
    const [text, first, last] = [linesOf(games), moveOf(games, nodes[0]), moveOf(games, nodes.at(-1))];
    const parts = [...text.querySelectorAll(":scope > *, :scope > .main > *")];
    for (const part of parts.slice(parts.indexOf(first.parentNode), parts.indexOf(last) + 1)) {
      part.classList.toggle("followed", part !== last.parentNode || !last.nextElementSibling?.matches(":not(.count)"));
    }
    if (!told.isConnected) first.parentNode.before(told);
    open(it, it.isOpen);
    const move = moveOf(line, node);
    if (move && !note.isConnected) move.parentNode.insertBefore(note, move.nextElementSibling);
    for (const one of [text, linesOf(line)]) if (one) watch.observe(one, ANY);
    watch.observe(page.body, ANY); // an element may go away
  };

  const take = ({ games, told, note }) => {
    told.remove();
    note.remove();
    const text = linesOf(games);
    text?.classList.remove("brief");
    text?.querySelectorAll(".followed").forEach((part) => part.classList.remove("followed"));
  };

  const look = () => {
    isAsked = false;
    watch.disconnect(); // what is still followed is watched again
    const lines = [...runtime.present].map(({ element }) => element).filter(({ localName }) => localName === "ply-line");
    const lists = lines.filter(hasSeveral);
    const lessons = lines.filter((line) => !lists.includes(line));
    for (const games of new Set([...kept.keys(), ...lists])) {
      const was = kept.get(games);
      const now = lists.includes(games) && follow(games, lessons);
      if (was && now && was.game === now.game && was.lesson === now.lesson && was.node === now.node) {
        put(was);
        continue;
      }
      kept.delete(games);
      if (was) take(was);
      if (!now) continue;
      kept.set(games, tell(now));
      put(now);
      heed(now);
    }
  };

  // Before the page is painted, and once for all that is drawn in this turn.
  const later = () => {
    if (!isAsked) queueMicrotask(look);
    isAsked = true;
  };

  for (const type of ["ply-ready", "ply-settled"]) page.addEventListener(type, later);
  page.addEventListener("ply-moved", (event) => {
    const it = kept.get(event.composedPath()[0]);
    if (it?.told.isConnected) heed(it);
  });
  later();
  return later;
}
