// One lesson and the talk about it: times that a comment names can be heard, and the board follows the voice until its
// reader takes a step.

import css from "plyline-style-talk";
import { Media } from "./media.js";
import { Passages, readComment } from "./passages.js";
import { writeTimes } from "./times.js";

// Milliseconds of reading after which the page has its turn.
const SLICE = 10;
// Milliseconds between two looks at the time while it plays: `timeupdate` comes up to 250 apart.
const BEAT = 100;
// Seconds: a time that was set is read back not quite as it was.
const NEAR = 0.02;

// A page's file of words may have the same names.
const words = {
  hear: "hear",
  hearPause: "pause",
  hearFollow: "follow",
  hearTimes: "hear {times}",
  hearVoice: "the talk is here",
};

const rest = () => new Promise((done) => setTimeout(done));

let isStyled = false;

export class Talk {
  /** The node that the voice is at; null where it is at none, and before it plays. */
  hearing = null;
  #line;
  #runtime;
  #page;
  #own;
  #held; // { following }
  #media;
  #tag; // what the lesson itself names
  #passages = new Passages([]);
  #turn = 0; // counts readings, so that a slow one of an old text is dropped
  #hasBegun = false; // whether it has played, so that its time means a place
  #led; // the node to which the board was led last
  #rested = null; // the second at which the reader paused here
  #beat;
  #drawn; // the state that the words under the board are of
  #couldPlay = false;
  #isHushed = false; // whether steps have not been spoken
  #place;
  #hear;
  #follow;
  #pause; // where the voice speaks of another position than the board shows
  #watch = new MutationObserver(() => this.put());

  /** @param held what is kept of the lesson where it has no talk yet: { following } */
  constructor(line, runtime, page, own, held) {
    this.#line = line;
    this.#runtime = runtime;
    this.#page = page;
    this.#own = own;
    this.#held = held;
    if (!isStyled) runtime.style(css);
    isStyled = true;
    const word = (does, click) => {
      const button = page.createElement("button");
      button.type = "button";
      button.dataset.do = does;
      button.onclick = click;
      return button;
    };
    this.#hear = word("hear", () => this.#press());
    this.#follow = word("follow", () => (line.following = !held.following));
    this.#place = page.createElement("p");
    this.#place.className = "talk";
    this.#pause = word("hush", () => this.#media.playable?.pause());
    this.#place.append(this.#hear, this.#pause, this.#follow);
    this.#media = new Media(page, () => line.isConnected && (line.talk ?? this.#tag), (type) => this.#heed(type));
    line.addEventListener("ply-moved", ({ detail }) => this.#moved(detail.by));
  }

  /** Reads the times of the lesson, in turns. */
  async read() {
    const turn = ++this.#turn;
    const { lesson } = this.#line;
    const all = [];
    let began = performance.now();
    for (let id = 0, node; (node = lesson.node(id)); id += 1) {
      // Words before a variation are about the position from which it leaves.
      for (const [said, at] of [[node.before, node.parent], [node.comment, id]]) {
        for (const passage of readComment(said)) all.push({ ...passage, node: at });
      }
      if (performance.now() - began < SLICE) continue;
      await rest();
      if (turn !== this.#turn || lesson !== this.#line.lesson) return;
      began = performance.now();
    }
    this.#passages = new Passages(all);
    this.#tag = lesson.tags.Talk;
    this.hearing = null;
    this.#led = undefined;
    this.#media.look();
    this.put();
    this.#heed();
  }

  // What is asked of it.

  /** Plays what the talk says of a node, that of the board where none is given: from the passage that explains it. */
  hear(place) {
    const { current, lesson } = this.#line;
    const here = current && !current.aside.length ? current.node : null;
    const node = typeof place === "string" ? lesson?.find(place) : (place ?? here);
    const from = this.#passages.first(node);
    if (from === undefined || !this.#media.playable) return false;
    this.#play(from);
    return true;
  }

  /** `following` has been set. */
  follow() {
    this.#led = undefined;
    this.#heed("seeking"); // also where it does not play now
  }

  #play(from) {
    this.#held.following = true;
    this.#led = undefined;
    this.#hasBegun = true;
    this.#media.play(from);
    this.#heed("seeking");
  }

  // The word under the board: from the passage about what is there; where the reader has paused, on from there.
  #press() {
    const media = this.#media.playable;
    if (!media) return;
    if (this.#isOn()) {
      media.pause();
      this.#rested = media.currentTime;
      this.#draw();
    } else if (this.#isResting(media)) this.#play();
    else this.hear();
  }

  #isResting(media) {
    return this.#rested !== null && Math.abs(media.currentTime - this.#rested) < 0.5;
  }

  /** Whether the word pauses: what plays is what the board shows, or nothing else could be heard here. */
  #isOn() {
    const own = this.#here();
    return this.#media.isPlaying && (this.#held.following || own === null || own === this.hearing);
  }

  /** The node on the board, if the talk speaks of it. */
  #here() {
    const { current } = this.#line;
    return current && !current.aside.length && this.#passages.first(current.node) !== undefined ? current.node : null;
  }

  // What the media says.

  #heed(type) {
    const { playable, isPlaying } = this.#media;
    if (!type || type === "emptied" || type === "ended") this.#hasBegun = false;
    this.#hasBegun ||= isPlaying;
    if (Boolean(playable) !== this.#couldPlay) {
      this.#couldPlay = Boolean(playable);
      this.put();
    }
    if (!isPlaying) {
      clearInterval(this.#beat);
      this.#beat = undefined;
      this.#speak();
    } else {
      this.#rested = null;
      this.#beat ??= setInterval(() => this.#heed("timeupdate"), BEAT);
    }
    const hearing = playable && this.#hasBegun ? this.#passages.at(playable.currentTime + NEAR) : null;
    if (hearing !== this.hearing) {
      this.hearing = hearing;
      this.#mark();
    }
    if (isPlaying || (this.#hasBegun && type === "seeking")) this.#lead();
    const state = [isPlaying, hearing, this.#hasBegun, this.#held.following].join();
    if (state === this.#drawn) return; // to ask where the board is takes longer than a look at the time
    this.#drawn = state;
    this.#draw();
  }

  /** Leads the board to where the voice is. */
  #lead() {
    const node = this.hearing;
    const reading = this.#runtime.of(this.#line);
    if (!this.#held.following || node === null || node === this.#led) return;
    const { root } = reading;
    // A piece is in the reader's hand.
    if (reading.ask((mounted) => mounted.dragging) || root?.querySelector(".grid [aria-selected], [data-becomes]")) return;
    this.#led = node;
    const had = root?.activeElement;
    const times = () => [...root.querySelectorAll(".times button")];
    const at = had ? times().indexOf(had) : -1;
    const act = (mounted) => {
      const { turns } = mounted;
      mounted.lead(node); // at most to an open question
      if (mounted.turns === turns) return;
      // Spoken steps would talk over the voice. The last one is spoken when the voice pauses.
      mounted.say = () => {};
      this.#isHushed = true;
    };
    reading.act(act, "talk");
    if (!had || had.isConnected) return;
    // Where all of the lesson was drawn again, or a list of next moves, the reader's focus has gone.
    this.put();
    const to = had.isConnected ? had : (times()[at] ?? root.querySelector('[data-do="next"]'));
    to?.focus({ preventScroll: true });
  }

  // Somebody has moved the board.
  #moved(by) {
    if (by !== "talk") {
      this.#speak(true);
      this.#led = undefined;
      this.#rested = null;
      if (this.#media.isPlaying) this.#held.following = false;
    }
    this.#draw();
  }

  /** Lets steps be spoken again, and the last one, where a step that comes now is not. */
  #speak(isStep) {
    if (!this.#isHushed) return;
    this.#isHushed = false;
    this.#runtime.of(this.#line)?.ask((mounted) => {
      delete mounted.say;
      if (!isStep) mounted.say();
    });
  }

  // What is seen of it.

  /** Puts its words under the board, if that is drawn, and its times into the text. Drawing all of the lesson takes them
   * away. */
  put() {
    const reading = this.#runtime.of(this.#line);
    if (!reading?.isDrawn) return;
    const { root } = reading;
    this.#watch.disconnect();
    const under = root.querySelector(".lesson:not(.quiz) .under");
    if (!under) return;
    if (!this.#media.playable || this.#passages.isEmpty) this.#place.remove();
    else if (under.previousSibling !== this.#place) under.before(this.#place);
    this.#draw();
    this.#mark();
    const [lines, paper] = [".lines", ".paper"].map((name) => root.querySelector(name));
    const play = this.#media.playable && ((from) => this.#play(from));
    writeTimes(this.#page, lines, this.#say("hearTimes"), play);
    // What is done here is not watched: a lesson that is drawn again as a whole is, and what is made to be printed.
    this.#watch.observe(under.parentNode, { childList: true });
    this.#watch.observe(lines, { childList: true, characterData: true, subtree: true });
    if (!paper) return;
    writeTimes(this.#page, paper, this.#say("hearTimes"));
    this.#watch.observe(paper, { childList: true, subtree: true });
  }

  #draw() {
    const media = this.#media.playable;
    const isOn = this.#isOn();
    this.#hear.hidden = !media || (!isOn && this.#here() === null && !this.#isResting(media));
    this.#pause.hidden = isOn || !this.#media.isPlaying;
    this.#follow.hidden = !this.#hasBegun;
    write(this.#hear, this.#say(isOn ? "hearPause" : "hear"));
    write(this.#pause, this.#say("hearPause"));
    write(this.#follow, this.#say("hearFollow"));
    this.#follow.setAttribute("aria-pressed", this.#held.following);
    // A word that goes away has done so with the focus.
    const root = this.#runtime.of(this.#line)?.root;
    const had = root?.activeElement;
    if (had?.hidden && this.#place.contains(had)) {
      (this.#hear.hidden ? root.querySelector('[data-do="next"]') : this.#hear)?.focus({ preventScroll: true });
    }
  }

  /** Marks the move in the text that the voice is at. */
  #mark() {
    const root = this.#runtime.of(this.#line)?.root;
    const move = this.hearing ? root?.querySelector(`#m${this.hearing}`) : null;
    for (const one of root?.querySelectorAll(".voice") ?? []) {
      if (one === move) continue;
      one.classList.remove("voice");
      one.removeAttribute("aria-description");
    }
    move?.classList.add("voice");
    move?.setAttribute("aria-description", this.#say("hearVoice"));
  }

  #say(name) {
    return this.#own(this.#line, name) ?? words[name];
  }
}

function write(button, text) {
  if (button.textContent !== text) button.textContent = text;
}
