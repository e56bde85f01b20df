// Prints how many bytes a core has when it is sorted and deflated (by zlib, for zopfli takes much
// longer). Called by build.sh with the core and the module that puts it together.

import { readFileSync } from "node:fs";
import { deflateSync } from "node:zlib";
import { sorted } from "./sort.mjs";

const [core, unsort] = process.argv.slice(2).map((file) => readFileSync(file));
console.log(deflateSync(await sorted(core, unsort), { level: 9 }).length);
