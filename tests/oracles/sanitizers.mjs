// What three sanitizers leave of pieces of HTML, with the settings they come with: node sanitizers.mjs READERS <LIST >LISTS
// LIST: JSON, the pieces. LISTS: JSON, the pieces by each sanitizer's name.
import { createRequire } from "node:module";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { json } from "node:stream/consumers";

const folder = join(resolve(process.argv[2]), "node_modules");
const require = createRequire(join(folder, "x.js"));
const load = async (name) => (await import(pathToFileURL(join(folder, name)).href)).default;

const sanitizeHtml = require("sanitize-html");
const { JSDOM } = require("jsdom");
const purifier = require("dompurify")(new JSDOM("").window);
const rehype = (await import(pathToFileURL(join(folder, "rehype/index.js")).href)).rehype;
const rehypeSanitize = await load("rehype-sanitize/index.js");
const processor = rehype().data("settings", { fragment: true }).use(rehypeSanitize);

const pieces = await json(process.stdin);
process.stdout.write(JSON.stringify({
    "sanitize-html": pieces.map((it) => sanitizeHtml(it)),
    dompurify: pieces.map((it) => purifier.sanitize(it)),
    "rehype-sanitize": pieces.map((it) => String(processor.processSync(it))),
}));
