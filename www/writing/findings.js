// What the checker says of the page: a line above it that counts and leads on, and each finding at its move.

import { count, el, word } from "./parts.js";

export class Findings {
  #page;
  #all = [];
  #next = 0;
  #bar = null;
  #counts = el("span");
  #shown = el("span", { class: "shown" });
  #state = el("span", { class: "refused", role: "status" });

  constructor(page) {
    this.#page = page;
  }

  show(findings) {
    this.#all = findings;
    if (!this.#bar) {
      this.#bar = el("div", { "data-plyline": "findings", role: "region", "aria-label": "plyline preview" });
      const link = el("link", { rel: "stylesheet", href: "/.plyline/writing/writing.css" });
      const line = el("div", { class: "bar" }, el("a", { href: "/" }, "all pages"), this.#counts, this.#shown, this.#state);
      this.#bar.attachShadow({ mode: "open" }).append(link, line);
      document.body.prepend(this.#bar);
    }
    const of = (severity) => findings.filter((it) => it.severity === severity).length;
    const parts = [["error"], ["warning"]].map(([name]) => of(name) && count(of(name), name)).filter(Boolean);
    const list = this.#told;
    this.#counts.replaceChildren(parts.join(", ") || "no errors, no warnings", " ", ...(list.length ? [word("next finding", () => this.#lead())] : []));
    if (!list.length) this.#shown.replaceChildren();
  }

  // Hints are told at their moves alone.
  get #told() {
    return this.#all.filter((it) => it.severity !== "hint");
  }

  #lead() {
    const list = this.#told;
    const finding = list[this.#next++ % list.length];
    const desk = this.#page.desk(finding.lesson);
    if (desk && finding.at) {
      desk.go(finding.at);
      desk.element.scrollIntoView({ block: "nearest" });
    }
    this.#shown.replaceChildren(this.#view(finding, true));
  }

  #view(finding, hasPlace) {
    const { severity, message, help, line, fix } = finding;
    const place = hasPlace ? `line ${line}: ` : "";
    const mend = () => this.#page.mend(this.#all.indexOf(finding)).catch((error) => this.alive(true, error));
    return el("div", { class: `finding ${severity}` }, el("b", {}, `${severity}: `), `${place}${message}${help ? ` (${help})` : ""} `, fix ? word("mend", mend) : null);
  }

  /** The findings at a position of a lesson, as elements. */
  at(lesson, moves) {
    const here = this.#all.filter((it) => it.lesson === lesson && it.at && it.at.join() === moves.join());
    return here.map((finding) => this.#view(finding, false));
  }

  /** Whether the program answers, and why not. */
  alive(isAlive, error) {
    this.#state.textContent = error && !isAlive ? `${error.message}: ${error.help ?? ""}` : (error?.message ?? "");
  }
}
