// plyline.js: everything, as one classic script.

import { compiled } from "./packed.js";
import { opener } from "./open.js";
import { makePlyline, offer } from "../define.js";
import { defineMore } from "../more.js";

offer(makePlyline(opener(compiled), defineMore));
