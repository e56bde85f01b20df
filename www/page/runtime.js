// What all elements of a page share: the core, the guard that every call into it passes, the
// queue for being drawn, and who is there. A trap ends the core's instance. Then the element that
// asked fails alone; each of the others is mounted again where it was when it is next asked for
// anything, so one that is out of the page at that moment is not lost.

import { page } from "./document.js";
import { LESSON } from "./elements/fences.js";
import { heedPage } from "./look/motion.js";
import { drawAtRest } from "./rest.js";
import { whenNear } from "./turns.js";

// Elements that are not drawn yet are blocks too. A block inside of an inline element splits it, and when
// that ends, Firefox builds the boxes of the whole page again: for each of a hundred lessons. Any
// rule of the page comes before this one.
function blockSheet() {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(":where(ply-line,ply-quiz,ply-recall,ply-diagram,ply-recap):where(:not([hidden])){display:block}");
  return sheet;
}

export class Runtime {
  /** Counts the core's instances. */
  era = 0;
  /** What is read and in the document: readings, and companions. */
  present = new Set();
  /** The style sheets of all elements. */
  sheets = [];
  /** A promise: the page is parsed and its fences are elements. */
  parsed;
  /** What makes elements of fences, by their names. */
  fences = { ...LESSON };
  /** What puts boards beside articles: { beside, comeBack, keepSeen, settle }; none before there are elements for articles. */
  articles;
  #open;
  #loading = null;
  #core = null;
  #held = new WeakMap();
  #inView = whenNear((element) => this.of(element).drawNear());

  /**
   * @param open returns a promise of the core: { mount, readLesson, reset }
   */
  constructor(open) {
    this.#open = open;
  }

  /** Loads the core, a promise. A failed load is tried again by the next that asks. */
  load() {
    return (this.#loading ??= this.#open().then(
      (core) => void (this.#core = core),
      (error) => {
        this.#loading = null;
        throw error;
      },
    ));
  }

  /** Makes the elements follow changes of the page. */
  heed() {
    heedPage(this.present);
    page.adoptedStyleSheets.push(blockSheet());
  }

  /** Adds a style sheet for all elements. */
  style(css) {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(css);
    this.sheets.push(sheet);
    this.present.forEach((one) => one.redress());
  }

  /** Keeps what does an element's work, out of the reach of the page's scripts. */
  hold(element, worker) {
    this.#held.set(element, worker);
  }

  /** What does an element's work; nothing for an element that is not ours. */
  of(element) {
    return this.#held.get(element);
  }

  /** Draws an element when it nears the view, or when the page rests. */
  drawSoon(element) {
    this.#inView(element);
    drawAtRest(element, (one) => this.of(one).drawNear());
  }

  mount(request) {
    return this.#core.mount(request);
  }

  /** Reads a text for a page's script. */
  async readLesson(text, game, letters) {
    await this.load();
    return this.guard(
      () => this.#core.readLesson(text, game, letters),
      (error) => {
        throw error;
      },
    );
  }

  /** Returns the result of a call into the core. A trap ends the instance, and then `failed` is called. */
  guard(call, failed) {
    try {
      return call();
    } catch (error) {
      this.#core.reset();
      this.era += 1;
      return failed(error);
    }
  }
}
