// The class of <ply-recap>: the table of what one side plays, made from a lesson.

import { addressOf } from "./address.js";
import { reflect, written } from "./reflect.js";

export function makeRecap(Still) {
  return reflect(
    class PlyRecap extends Still {
      static observedAttributes = ["for", "side"];

      static asked(element, line) {
        const start = addressOf(line?.id ?? "", "");
        return { text: "", placed: false, given: { ...written(element), start } };
      }
    },
  );
}
