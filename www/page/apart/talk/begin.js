// Lessons of which a talk speaks: what plays it and follows its voice is loaded where a comment says when. It is a file
// beside the script in both forms, because few lessons have one.

import { own, page, reflect } from "plyline-shared";
import { beside } from "plyline-beside";

/**
 * Lets lessons follow a talk, and gives them what a page's script can ask about it.
 * @return what is to be called before a lesson is drawn
 */
export function heedTalks(runtime) {
  const held = new WeakMap(); // lesson -> { following, talk }
  const of = (line) => {
    if (!held.has(line)) held.set(line, { following: true });
    return held.get(line);
  };
  class Heard {
    hear(place) {
      return of(this).talk?.hear(place) ?? false;
    }
    get hearing() {
      return of(this).talk?.hearing ?? null;
    }
    get following() {
      return of(this).following;
    }
    set following(following) {
      of(this).following = Boolean(following);
      of(this).talk?.follow();
    }
  }
  const { prototype } = customElements.get("ply-line");
  reflect({ prototype, observedAttributes: ["talk"] });
  const { constructor, ...parts } = Object.getOwnPropertyDescriptors(Heard.prototype);
  Object.defineProperties(prototype, parts);

  const begin = async (line) => {
    if (line.localName !== "ply-line") return;
    if (Object.hasOwn(line, "following")) {
      const { following } = line; // set before there was such a property
      delete line.following;
      line.following = following;
    }
    const it = of(line);
    if (!line.lesson || !beside || (!it.talk && !line.text.includes("Hear:"))) return;
    try {
      const { Talk } = await beside("plyline-talk.mjs");
      it.talk ??= new Talk(line, runtime, page, own, it);
      await it.talk.read();
    } catch (error) {
      console.error(`plyline ${line.id}: talk: ${error.message}`);
    }
  };
  page.addEventListener("ply-ready", (event) => begin(event.composedPath()[0]));
  runtime.present.forEach(({ element }) => begin(element));
  return (line) => queueMicrotask(() => held.get(line)?.talk?.put());
}
