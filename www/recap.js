// The class of <ply-recap>: the table of what one side plays, made from a lesson.

import { reflect } from "./reflect.js";

export function makeRecap(Still) {
  return reflect(
    class PlyRecap extends Still {
      static observedAttributes = ["for", "side"];

      static asked(element, line) {
        // Under <base> a bare `#` would lead to another page.
        const page = element.ownerDocument.querySelector("base[href]") ? location.pathname + location.search : "";
        return { text: "", placed: false, start: `${page}#${encodeURIComponent(line?.id ?? "")}` };
      }
    },
  );
}
