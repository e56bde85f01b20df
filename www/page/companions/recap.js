// <ply-recap>: the table of what one side plays, made from a lesson.

import { addressOf, reflect, written } from "plyline-shared";
import { Companion } from "./companion.js";

class RecapCompanion extends Companion {
  asked(line) {
    const start = addressOf(line?.id ?? "", "");
    return { given: { ...written(this.element), start } };
  }
}

/** The class of <ply-recap>. */
export function makeRecap(PlyCompanion) {
  return reflect(
    class PlyRecap extends PlyCompanion {
      static observedAttributes = ["for", "side"];

      constructor() {
        super(RecapCompanion);
      }
    },
  );
}
