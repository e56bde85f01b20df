// Prints how many bytes a core has when it is sorted and deflated, by zlib or by zopfli, which takes much
// longer. Called by build.sh with the core, the module that puts it together, and `zopfli` for that.

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { deflateSync } from "node:zlib";
import { sorted } from "./sort.mjs";

const [from, unsort, by] = process.argv.slice(2);
const packed = await sorted(readFileSync(from), readFileSync(unsort));
const { deflateAsync } = createRequire(`${process.env.PLYLINE_TOOLS}/npm/`)("@gfx/zopfli");
const deflate = { zopfli: () => deflateAsync(packed, { numiterations: 15, blocksplittingmax: 0 }) };
const { length } = await (deflate[by] ?? (() => deflateSync(packed, { level: 9 })))();
console.log(length);
