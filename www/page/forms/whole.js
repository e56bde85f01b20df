// plyline.js: everything, as one classic script.

import { open } from "./open.js";
import { makePlyline, offer } from "../define.js";
import { defineMore } from "../more.js";

offer(makePlyline(open, defineMore));
