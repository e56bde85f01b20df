// What an engine said of the position on a lesson's board: read from a file, shown where the reader asks for it.

import { drawAssessment } from "plyline-glue";
import { guarded } from "../core.js";
import { fetchFile, four } from "../file.js";
import { lettersOf } from "../letters.js";

const list = (value) => (Array.isArray(value) ? value : []);

export class Assessed {
  #page;
  #line;
  #words;
  #file = null;
  #place;

  /** @param words asks for the words of the lesson's language */
  constructor(line, page, words) {
    this.#line = line;
    this.#page = page;
    this.#words = words;
    this.#place = page.createElement("details");
    this.#place.className = "assessed";
    line.addEventListener("ply-moved", () => this.#draw());
  }

  get place() {
    return this.#file ? this.#place : null;
  }

  /** Reads the file at an address; without one nothing is shown. Fails where it holds nothing of this lesson. */
  async read(address) {
    this.#file = null;
    const file = address ? await fetchFile(new URL(address, this.#page.baseURI), "assessments") : null;
    const { lesson } = this.#line;
    if (!file || !lesson) return;
    const at = new Map(list(file.positions).map((it) => [it.fen, it]));
    let isOf = false;
    for (let id = 0, node; !isOf && (node = lesson.node(id)); id += 1) isOf = at.has(four(node.fen));
    if (!isOf) throw new Error("it is of another lesson, or of an older form of this one");
    const { name = "", author } = file.engine ?? {};
    const [limit = []] = Object.entries(file.limit ?? {});
    this.#file = { at, of: [author ? `${name}, ${author}` : name, limit[0] ?? "", limit[1] ?? "", file.date ?? ""] };
    this.#draw();
  }

  #draw() {
    const { current } = this.#line;
    if (!current || !this.#file) return;
    const found = this.#file.at.get(four(current.fen));
    this.#place.hidden = !found;
    if (!found) return;
    const [kind, number] = Object.entries(found.score ?? {})[0] ?? [];
    const score = kind === "pawns" ? Math.round(number * 100) : number;
    const line = list(found.line).join(" ");
    const [, turn, , , , move] = current.fen.split(" ");
    const written = [...this.#file.of, kind, score, found.bound ?? "", found.depth ?? "", line].join("\0");
    guarded(() => drawAssessment(this.#place, written, turn === "w", Number(move), this.#words(), lettersOf(this.#line)));
  }
}
