// Makes README's pictures, after `sh www/build.sh` and `cargo build`: `node tests/ways/picture.mjs`. www/lesson.png is that of
// examples/disk with a sideline's move on the board; www/writing.png is a post that `plyline preview` serves, at a comment.

import { spawn } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
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
  await pictureWriting();
} finally {
  close();
  await browser.close();
}
process.exit();

async function pictureWriting() {
  const folder = mkdtempSync(join(tmpdir(), "plyline-picture-"));
  const post = `# The Vienna, slowly

Two knights, and then the pawn that they leave free.

\`\`\`pgn
1. e4 e5 2. Nc3 {keeps the way of the f-pawn free, and looks at @d5.} Nf6
(2... Nc6 3. f4 {offers the pawn.}) 3. f4 d5 $11 *
\`\`\`
`;
  writeFileSync(join(folder, "vienna.md"), post);
  const program = spawn(join(ROOT, "target/debug/plyline"), ["preview", folder], { stdio: ["ignore", "pipe", "inherit"] });
  try {
    const first = await new Promise((done) => program.stdout.once("data", (text) => done(String(text).trim())));
    const [home, key] = first.split("#");
    await browser.open(`${home}vienna.md#${key}`);
    if (!(await browser.until('document.querySelector("[slot=writing]")'))) throw new Error("the page is not there");
    await browser.js(`
      const line = document.querySelector("ply-line");
      const { shadowRoot } = line.querySelector("[slot=writing]");
      const press = (word) => [...shadowRoot.querySelectorAll("button")].find((it) => it.textContent === word).click();
      line.go("2.Nc3");
      if (!shadowRoot.querySelector('[aria-pressed="true"]')) press("write");
      await new Promise((done) => setTimeout(done, 500));
      press("comment");
      await new Promise((done) => setTimeout(done, 500));
      shadowRoot.querySelector("textarea").blur();
      scrollTo(0, 0)`);
    const png = await browser.picture("body", 1100, 1280);
    writeFileSync(join(ROOT, "www/writing.png"), png);
    console.log(`www/writing.png: ${png.length} bytes`);
  } finally {
    program.kill();
    rmSync(folder, { recursive: true, force: true });
  }
}
