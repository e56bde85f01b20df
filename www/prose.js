// <ply-prose> finds the moves that an article's sentences name and makes each a <ply-ref>, a link
// that moves the board. Only text nodes are split; what the core does not find stays as it is.

import { fragment } from "./address.js";

// What is not the author's running text.
const CLOSED =
  "a, button, code, pre, kbd, samp, input, textarea, select, script, style, svg, math, [contenteditable], " +
  '[data-plyline~="off"], ply-line, ply-ref, ply-quiz, ply-recall, ply-diagram, ply-recap';
const PARAGRAPH =
  "p, li, h1, h2, h3, h4, h5, h6, td, th, dt, dd, caption, figcaption, blockquote, summary, div, section, article, main, body, ply-prose";
// How many links are put in before the page gets its turn again.
const PORTION = 40;

const Base = globalThis.HTMLElement ?? class {};
const idle = globalThis.requestIdleCallback ?? ((call) => setTimeout(call, 1));

/** The lesson that an element names by `for`, or the page's only one. */
export function lessonOf(element) {
  const id = element.getAttribute("for");
  const root = element.ownerDocument;
  if (id) return root.querySelector(`ply-line#${CSS.escape(id)}`);
  return root.querySelector("ply-line");
}

/** Links the moves that the sentences below `root` name to a lesson; a promise of the findings. */
export async function linkProse(root, line) {
  await line.ready;
  const paragraphs = paragraphsOf(root);
  const { found, findings } = line.named(paragraphs.map((nodes) => nodes.map(({ data }) => data).join("")));
  for (let at = found.length; at > 0; at -= PORTION) {
    await new Promise((done) => idle(done));
    // From the end, so that what is before keeps its place.
    for (const one of found.slice(Math.max(0, at - PORTION), at).reverse()) put(paragraphs[one.paragraph], one, line);
  }
  return findings;
}

/** The text nodes of each paragraph, in the order of the document. */
function paragraphsOf(root) {
  const walker = document.createTreeWalker(root, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT, (node) => {
    if (node.nodeType === Node.TEXT_NODE) return NodeFilter.FILTER_ACCEPT;
    return node.matches(CLOSED) ? NodeFilter.FILTER_REJECT : NodeFilter.FILTER_SKIP;
  });
  const list = [];
  let before = null;
  while (walker.nextNode()) {
    const node = walker.currentNode;
    const paragraph = node.parentElement.closest(PARAGRAPH);
    if (paragraph === before) list.at(-1).push(node);
    else list.push([node]);
    before = paragraph;
  }
  return list;
}

/** Puts one link in: the text from `from` to `to` of a paragraph, as far as one node holds it. */
function put(nodes, { from, to, run }, line) {
  let start = 0;
  for (const node of nodes) {
    const end = start + node.length;
    if (to <= end) {
      const first = Math.max(from, start) - start;
      if (!node.parentNode || first >= to - start) return; // the page has changed
      node.splitText(to - start);
      const text = first > 0 ? node.splitText(first) : node;
      const ref = document.createElement("ply-ref");
      ref.setAttribute("for", line.id);
      ref.setAttribute("at", run.replaceAll("_", " "));
      const link = document.createElement("a");
      link.setAttribute("href", location.pathname + location.search + fragment(line.id, run));
      const bdi = document.createElement("bdi");
      bdi.dir = "ltr";
      link.append(bdi);
      ref.append(link);
      text.replaceWith(ref);
      bdi.append(text);
      return;
    }
    start = end;
  }
}

/** `tell` says on the page and in the console what the author should know. */
export function makeProse() {
  return class PlyProse extends Base {
    #findings = [];
    #begun = false;
    #settle;
    #ready = new Promise((resolve) => (this.#settle = resolve));

    async connectedCallback() {
      if (this.#begun) return;
      this.#begun = true;
      const line = lessonOf(this);
      if (line) this.#findings = await linkProse(this, line);
      this.#settle(this);
    }

    get findings() {
      return this.#findings;
    }
    get ready() {
      return this.#ready;
    }
  };
}

export function makeRef(sheet) {
  let open = null; // the one small board of the page

  return class PlyRef extends Base {
    #root = null;

    constructor() {
      super();
      this.addEventListener("click", (event) => this.#follow(event));
      this.addEventListener("keydown", (event) => {
        if (event.key === "Escape" && open === this) this.#close();
      });
    }

    disconnectedCallback() {
      if (open === this) this.#close();
    }

    #follow(event) {
      const plain = event.button === 0 && !event.ctrlKey && !event.metaKey && !event.shiftKey && !event.altKey;
      if (!plain || event.defaultPrevented || !event.target.closest("a")) return;
      const line = lessonOf(this);
      const at = this.getAttribute("at") ?? "";
      if (!line?.refer?.(at)) return; // then the link is a link
      event.preventDefault();
      if (open && open !== this) open.close();
      if (!line.boardInSight) this.#show(line, at);
      else if (open === this) this.#close();
    }

    #show(line, at) {
      this.#root ??= this.attachShadow({ mode: "open" });
      this.#root.adoptedStyleSheets = [sheet()];
      if (!line.drawSmall(this.#root, at)) return;
      open = this;
      const button = this.#root.querySelector("[data-do=close]");
      button.addEventListener("click", (event) => {
        event.stopPropagation();
        this.#close();
        this.querySelector("a")?.focus();
      });
    }

    #close() {
      open = null;
      this.#root?.replaceChildren(document.createElement("slot"));
    }

    close() {
      this.#close();
    }
  };
}
