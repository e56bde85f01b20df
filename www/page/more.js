// The elements that a page with lessons alone does not need: in plyline.js, and a module of their
// own, plyline-more.mjs. What they need of the rest they import as `plyline-shared` (shared.js).

import { page, upgradeFences } from "plyline-shared";
import css from "plyline-style-more";
import { heedAsides } from "./apart/answers/begin.js";
import { heedLost } from "./companions/arriving.js";
import { Beside, heedRoom } from "./companions/beside.js";
import { makeCompanion } from "./companions/companion.js";
import { makeDiagram } from "./companions/diagram.js";
import { comeBack, keepSeen, settle } from "./companions/dock.js";
import { heedFollows } from "./companions/follows.js";
import { makeProse } from "./companions/prose.js";
import { makeRecap } from "./companions/recap.js";
import { makeRef } from "./companions/ref.js";
import { heedCounts } from "./apart/counts/begin.js";
import { FENCES } from "./elements/blocks.js";
import { makeQuiz } from "./elements/quiz.js";
import { makeRecall } from "./elements/recall.js";
import { heedTalks } from "./apart/talk/begin.js";

/**
 * Defines the elements, and makes elements of the fences that are for them.
 * @param Board the class of elements with a board of their own
 */
export function defineMore(Board, runtime) {
  runtime.style(css);
  customElements.define("ply-quiz", makeQuiz(Board, runtime));
  customElements.define("ply-recall", makeRecall(Board, runtime));
  const Companion = makeCompanion(runtime);
  customElements.define("ply-diagram", makeDiagram(Companion));
  customElements.define("ply-recap", makeRecap(Companion));
  customElements.define("ply-ref", makeRef(Companion));
  customElements.define("ply-prose", makeProse(Companion, runtime));
  const hold = heedCounts(runtime);
  heedAsides(runtime);
  const hear = heedTalks(runtime);
  const follow = heedFollows(runtime);
  const beside = (line) =>
    new Beside(line, () => {
      hold(line);
      hear(line);
      follow();
    });
  runtime.articles = { beside, comeBack, keepSeen, settle };
  heedLost(runtime);
  Object.assign(runtime.fences, FENCES);
  runtime.parsed.then(() => heedRoom(runtime.present));
  // Where this module comes late, the page's fences have had their turn.
  runtime.parsed = runtime.parsed.then(() => upgradeFences(page, FENCES));
}
