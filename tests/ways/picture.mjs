// Makes README's picture of a lesson, www/lesson.png: `node tests/ways/picture.mjs`, after `sh www/build.sh`. It is that of
// examples/disk with a sideline's move on the board.

import { writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { openBrowser, serve } from "./browser.mjs";

const ROOT = join(dirname(fileURLToPath(import.meta.url)), "../..");
const browser = await openBrowser(ROOT);
const { address, close } = await serve(ROOT);
try {
  await browser.open(`${address}/examples/disk/index.html#vienna/1.e4_e5_2.Nc3_Nf6_3.f4_exf4_4.e5`);
  if (!(await browser.until('document.querySelector("ply-line").current?.san === "e5"'))) throw new Error("the lesson is not there");
  const png = await browser.picture("main", 980, 1000);
  writeFileSync(join(ROOT, "www/lesson.png"), png);
  console.log(`www/lesson.png: ${png.length} bytes`);
} finally {
  close();
  await browser.close();
}
process.exit();
