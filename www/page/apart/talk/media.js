// The element of the page that plays a talk: named by its id, it may come later, be replaced, or fail. Anything will do
// that has the interface of `audio` and `video`.

const TYPES = ["timeupdate", "seeking", "seeked", "play", "playing", "pause", "ended", "emptied", "error", "loadstart", "loadedmetadata", "canplay"];
// Nothing that it names can be played.
const NO_SOURCE = 3;

const all = new Set(); // weakly, so that a lesson that is removed can be freed
let watch;

function watchPage() {
  if (watch) return;
  watch = new MutationObserver(() => {
    for (const kept of all) {
      const media = kept.deref();
      if (media) media.look();
      else all.delete(kept);
    }
  });
  watch.observe(document, { childList: true, subtree: true, attributes: true, attributeFilter: ["id", "talk"] });
}

export class Media {
  #named;
  #heed;
  #page;
  #element = null;
  #listening;

  /**
   * @param named asks for the id; nothing while none is wanted
   * @param heed is called with the type of each event, and with nothing when it is another element
   */
  constructor(page, named, heed) {
    this.#page = page;
    this.#named = named;
    this.#heed = heed;
    all.add(new WeakRef(this));
    watchPage();
  }

  /** Looks for it again. */
  look() {
    const id = this.#named();
    const element = (id && this.#page.getElementById(id)) || null;
    if (element === this.#element) return;
    this.#listening?.abort();
    this.#element = element;
    if (element) this.#listen(element);
    this.#heed();
  }

  #listen(element) {
    this.#listening = new AbortController();
    const { signal } = this.#listening;
    const heed = ({ type }) => {
      this.#heed(type);
      // What has failed says so only after its event.
      if (type === "error") setTimeout(() => this.#element === element && this.#heed(type));
    };
    // Also on the way to a `source`, whose errors do not bubble.
    for (const type of TYPES) element.addEventListener(type, heed, { signal, capture: true });
    // An element of a class of its own may be defined later.
    if (element.localName.includes("-")) customElements.whenDefined(element.localName).then(() => this.#element === element && this.#heed());
  }

  /** The element, if it can be played. */
  get playable() {
    const media = this.#element;
    const can = typeof media?.play === "function" && typeof media.pause === "function" && "currentTime" in media;
    return can && !media.error && media.networkState !== NO_SOURCE ? media : null;
  }

  get isPlaying() {
    const { playable } = this;
    return Boolean(playable && !playable.paused && !playable.ended);
  }

  /** Plays, from a second where one is given. What the browser forbids it forbids. */
  play(from) {
    const { playable } = this;
    try {
      if (from !== undefined) playable.currentTime = from;
      playable.play()?.catch?.(() => {});
    } catch {
      // it says itself why not
    }
  }
}
