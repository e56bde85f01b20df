// Checks the words of every language in www/words: `node tests/languages.mjs`. English is read from the sources, so
// that nothing has to be compiled. Number formats and the categories of numbers are those of Unicode CLDR, as Node's
// `Intl` has them; piece letters are those of the PGN standard (1994-03-12), section 17, as letters.rs lists them.

import { readFileSync, readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { AFTER, AGREE, KNOWN, SIGNS } from "./support/numbers.mjs";

const ROOT = join(dirname(fileURLToPath(import.meta.url)), "..");
const source = (path) => readFileSync(join(ROOT, path), "utf8");

/** A text as Rust writes it. */
const rust = (text) => text.replaceAll(/\\u\{(\w+)\}/g, (_, hex) => String.fromCodePoint(parseInt(hex, 16)));
/** The rows `Name "key" "text";` of a table in Rust. */
const rows = (path) => [...source(path).matchAll(/^ {4}\w+ "(\w+)" "(.*)";$/gm)].map(([, key, text]) => [key, rust(text)]);
/** The rows `  key: "text",` of a file of the page. */
const pairs = (text) => [...text.matchAll(/^ {2}(\w+): ("(?:[^"\\]|\\.)*"),$/gm)].map(([, key, value]) => [key, JSON.parse(value)]);

/** Keys and texts of English, in the order of a language's file. */
const ENGLISH = [
  ...rows("src/view/words/table.rs"),
  ...pairs(source("www/page/words.js")),
  ...rows("src/counts/words.rs"),
  ...rows("src/assessments/words.rs"),
  ...rows("src/aside/words.rs"),
  ...pairs(source("www/page/companions/follows.js")),
  ...pairs(source("www/page/apart/talk/talk.js")),
];
const english = new Map(ENGLISH);

/** The languages, by their files' names: keys and texts in order. */
const files = {};
for (const name of readdirSync(join(ROOT, "www/words"))) files[name.replace(".js", "")] = source(`www/words/${name}`);
const german = new Map(pairs(files.de));

const length = (text) => [...text].length;
const words = (text) => text.split(/[\s\u00a0\u202f]+/);
const holders = (text) => (text.match(/\{\w*\}/g) ?? []).sort().join(" ");

// --- what is asked of a file; each returns what is wrong, a line each ---

/** The page's script, the command line and this file read the same pairs, under the language's code. */
function form(code, text) {
  globalThis.plylineWords = {};
  try {
    new Function(text)();
  } catch (error) {
    return [error.message];
  }
  const loaded = Object.entries(globalThis.plylineWords[code] ?? {});
  const read = pairs(text);
  const same = JSON.stringify(loaded) === JSON.stringify(read);
  const lines = text.split("\n").filter((line) => line.startsWith("  "));
  return [
    ...(same ? [] : ["a script reads other pairs than there are lines"]),
    ...(lines.length === read.length ? [] : [`${lines.length - read.length} lines are no pair`]),
    ...(/memory|src\/view\/words\/table\.rs/.test(text.split("\n\n")[0]) ? [] : ["its first lines do not say where its terms are from"]),
  ];
}

/** Every key of English, no other, in its order. */
function keys(code, text) {
  const own = pairs(text).map(([key]) => key);
  const wrong = [
    ...ENGLISH.filter(([key]) => !own.includes(key)).map(([key]) => `${key} is missing`),
    ...own.filter((key) => !english.has(key)).map((key) => `${key} is unknown`),
    ...own.filter((key, at) => own.indexOf(key) < at).map((key) => `${key} is there twice`),
  ];
  if (wrong.length) return wrong;
  return own.filter((key, at) => key !== ENGLISH[at][0]).slice(0, 1).map((key) => `${key} is out of order`);
}

/** Placeholders are those of English, and a text ends as its place in a sentence needs. */
function places(code, text) {
  return pairs(text).flatMap(([key, own]) => {
    const other = english.get(key) ?? "";
    const reason = /^P\d/.test(key) || key === "vocabulary"; // English has the checker's own sentence
    const opens = (it) => /^[\s\u00a0]*([,;.]?)/.exec(it)[1];
    const closes = (it) => /\.$/.test(it) && key !== "countsGames" && key !== "countsGroup";
    const wrong = [];
    if (own === "") wrong.push("is empty");
    if (holders(own) !== holders(other)) wrong.push(`has the placeholders ${holders(own) || "none"}, not ${holders(other) || "none"}`);
    if (!reason && key !== "countsGroup" && opens(own) !== opens(other)) wrong.push(`begins otherwise: ${own}`);
    if (!reason && / $/.test(own) !== / $/.test(other)) wrong.push("ends with a space, or has lost it");
    if (!reason && closes(own) !== closes(other)) wrong.push("ends with a full stop, or has lost it");
    if (reason && key !== "vocabulary" && !own.endsWith(".")) wrong.push("is no sentence");
    return wrong.map((it) => `${key} ${it}`);
  });
}

// The row under the board, and what is there at times. It is narrowest beside the board of a small window, 6.6rem
// (www/css/figure.css); it wraps between words, and at 0.9em of 16 px a letter has about 7 px: so 14 letters a word.
const ROW = ["back", "next", "top", "turn", "map", "ask"];
const UNDER = [...ROW, "fold", "unfold", "copyLink", "inText", "close", "home", "toQuestion", "enter"];
const BUTTONS = [
  "mainOnly", "allLines", "aloud", "quiet", "giveHint", "showMe", "again", "openAll", "begin", "goOn", "nextWalk", "stop",
  "remember", "remembered", "saveFile", "loadFile", "forget", "keepIt", "forgetIt", "copyFen", "copyPgn", "savePgn",
  "describe", "comment", "lastMove", "movesHere", "where", "help", "countsInText", "engine", "engineSource", "asideThere",
  "followsShow", "followsHide", "hear", "hearPause", "hearFollow",
];
const HEADS = ["recapAfter", "whitePlays", "blackPlays", "countsMove", "countsGames", "countsScore", "countsOthers", "countsYear",
  "countsRating", "countsTime", "countsNotKnown", "countsUnrated", "countsStandard", "countsRapid", "countsBlitz"];

/** The longer of English and German, which have been seen to fit at 320 px. */
const fits = (key) => Math.max(length(english.get(key)), length(german.get(key) ?? ""));

/** How long a text may be: that, and a little. */
function most(key) {
  if (key === "unfold") return most("fold"); // one button
  if (UNDER.includes(key)) return fits(key) + 2 + (words(german.get(key)).length > 1 ? 2 : 0);
  if (BUTTONS.includes(key)) return Math.round(fits(key) * 1.3) + 4;
  if (HEADS.includes(key)) return Math.max(fits(key) + 4, Math.round(fits(key) * 1.3));
  if (key === "desk") return fits(key) + 2; // the field beside `enter`
  if (key === "main" || key === "backTo") return fits(key) + 2; // a label before a move
  return Math.round(fits(key) * 1.5) + 16;
}

/** No text is much longer than its place. */
function lengths(code, text) {
  const own = new Map(pairs(text));
  const long = [...own].filter(([key, it]) => key !== "vocabulary" && !/^P\d/.test(key) && length(it) > most(key));
  const wide = UNDER.filter((key) => Math.max(...words(own.get(key) ?? "").map(length)) > 14);
  const sum = (of) => ROW.reduce((all, key) => all + length(of.get(key) ?? ""), 0);
  const row = Math.max(sum(english), sum(german));
  return [
    ...long.map(([key, it]) => `${key} has ${length(it)} letters, more than ${most(key)}: ${it}`),
    ...wide.map((key) => `${key} has a word of more than 14 letters`),
    ...(sum(own) > row ? [`the row under the board has ${sum(own)} letters, more than ${row}`] : []),
  ];
}

// --- numbers ---

// What the core puts a number before (`notMet` in view/show/recall_summary.rs, `plurals` in words/answers.rs,
// `countsGames` in counts/said.rs), and what it says only of several; `countsBeside` of 30 games and more, `asideNothing`
// and `asideDepth` of 4 half-moves and more (`SURE` in aside/said.rs).
const LED = { notMet: (it) => [it], countsGames: (it) => [it], plurals: (it) => it.split(" ") };
const SEVERAL = ["lines", "several", "dueMany", "nextDays", "plurals", "countsGames", "countsBeside",
  "asideNothing", "asideStays", "asideDepth", "asideQueens", "asideRooks", "asideBishops", "asideKnights", "asidePawns", "asideMuch"];
const NUMBERS = ["count", "of", "recalled", "again", "later", "games", "damaged", "left", "depth", "n"];
const COUNTS = [1, 2, 5, 22];

/** What follows each number of a text up to the next sign or placeholder: a phrase that may have to agree. */
function phrases(key, text) {
  const led = LED[key]?.(text) ?? [];
  const results = key.startsWith("counts") || key === "inPawns" ? ["white", "drawn", "black"] : [];
  const pattern = new RegExp(`\\{(?:${[...NUMBERS, ...results].join("|")})\\}([^{},.;:()]*)`, "g");
  const after = [...text.matchAll(pattern)].map(([, phrase]) => phrase);
  return [...led, ...after].map((it) => it.replaceAll(/[\u00a0\s]+/g, " ").trim()).filter(Boolean);
}

/** What follows a number is right for each number that can be there: either it never changes, or it is the form of
 * every category that the language puts those numbers in. */
function plurals(code, text) {
  const rules = new Intl.PluralRules(code);
  return pairs(text).flatMap(([key, own]) =>
    phrases(key, own).flatMap((phrase, at) => {
      const counts = COUNTS.filter((count) => count > 1 || !SEVERAL.includes(key));
      if (KNOWN[code]?.includes(key)) return [];
      if ([...SIGNS, ...(AFTER[code] ?? [])].some((it) => phrase === it || phrase.startsWith(`${it} `))) return [];
      const forms = AGREE[code]?.[key];
      const form = Array.isArray(forms) ? forms[at] : forms;
      if (!form) return [`${key}: nobody says how “${phrase}” agrees with a number`];
      const bad = counts.filter((count) => form[rules.select(count)] !== phrase);
      return bad.map((count) => `${key}: “${count} ${phrase}”, but it is “${form[rules.select(count)] ?? "…"}”`);
    }),
  );
}

/** A number that is one has a text of its own with its noun in the singular, and no other text says it of several. */
function singular(code, text) {
  const own = new Map(pairs(text));
  return ["oneLine", "dueOne"].filter((key) => !/^1 /.test(own.get(key) ?? "")).map((key) => `${key} does not begin with 1`);
}

/** Groups of thousands and percent are written as the language writes them. */
function numbers(code, text) {
  const own = new Map(pairs(text));
  const bare = (it) => it.replaceAll(/[\u00a0\u202f ]+/g, " ");
  const group = new Intl.NumberFormat(code, { useGrouping: "always" }).formatToParts(1234567).find(({ type }) => type === "group").value;
  const percent = new Intl.NumberFormat(code, { style: "percent" }).format(0.12);
  return [
    ...(bare(group) === bare(own.get("countsGroup")) ? [] : [`countsGroup is not “${group}”`]),
    ...(bare(percent) === bare(own.get("countsPercent").replace("{n}", "12")) ? [] : [`countsPercent is not as in “${percent}”`]),
  ];
}

// --- words that belong together ---

/** Moves in examples have the letters of the language, or English ones throughout; and they are read as what they are
 * also where English letters are tried first: a Dutch `Pf3` would be a pawn's move. */
function letters(code, text) {
  const own = new Map(pairs(text));
  const of = (wanted) => new RegExp(`Letters\\("(\\w{6})[^"]* ${wanted} `).exec(source("src/notation/word/letters.rs"))[1];
  const english = of("en");
  const examples = ["desk", "field", "helpSaid"].map((key) => /(\p{Lu})[a-h][1-8]/u.exec(own.get(key))?.[1]);
  const becomes = own.get("P038").match(/=\p{Lu}/gu) ?? [];
  const uses = ([, knight, bishop, rook, queen, king]) =>
    becomes.join() === [queen, rook, bishop, knight].map((it) => `=${it}`).join() &&
    examples.every((it) => [knight, bishop, rook, queen, king].includes(it));
  const other = examples.filter((it) => english.includes(it) && !uses(english) && english.indexOf(it) !== of(code).indexOf(it));
  return [
    ...(uses(of(code)) || uses(english) ? [] : [`its moves are written neither with ${of(code)} nor with ${english}`]),
    ...other.map((it) => `an example begins with ${it}, which is another piece in English`),
  ];
}

/** What can be typed means one thing, can be typed on any keyboard, and a text that names a button names it right. */
function typed(code, text) {
  const own = new Map(pairs(text));
  const table = source("src/view/words/actions.rs").matchAll(/^ {4}(\w+) (\w+) "(\w+)" (Yes|AtQuestion|InRecall) /gm);
  const keyOf = new Map([...source("src/view/words/table.rs").matchAll(/^ {4}(\w+) "(\w+)" "/gm)].map(([, name, key]) => [name, key]));
  const actions = [...table].map(([, , word, name]) => [keyOf.get(word), name]);
  const small = (it) => it.toLowerCase();
  const wrong = [];
  for (const [key, name] of actions) {
    if (/[\u2019.?!]/.test(own.get(key))) wrong.push(`${key} has a sign that is not typed: ${own.get(key)}`);
    for (const [other, means] of actions) {
      if (name === means) continue;
      if ([own.get(other), english.get(other)].some((it) => small(it) === small(own.get(key)))) wrong.push(`${key} and ${other} are both “${own.get(key)}”`);
    }
  }
  // Its button has another text while the other of the two is meant.
  for (const [key, name] of [["fold", "unfold"], ["mainOnly", "allLines"], ["aloud", "quiet"]]) {
    if (own.get(key) === own.get(name)) wrong.push(`${key} is ${name}`);
  }
  if (!own.get("againstSaid").includes(own.get("next"))) wrong.push(`againstSaid does not name “${own.get("next")}”`);
  // The core makes the first letter large, if it is one of ASCII (words/moved.rs).
  for (const key of ["mainOnly", "allLines", ...[...own.keys()].filter((it) => /^(white|black)(King|Queen|Rook|Bishop|Knight|Pawn)$/.test(it))]) {
    if (!/^[a-z]/i.test(own.get(key))) wrong.push(`${key} cannot begin a sentence: ${own.get(key)}`);
  }
  return wrong;
}

/** The list of a language's questions: signs that the core knows, each word once and as the core compares it. */
function vocabulary(code, text) {
  const list = new Map(pairs(text)).get("vocabulary");
  const known = "-pnbrqkwsxAaGgFfMmVYDCWTULHclvtj";
  const wrong = [];
  const seen = new Map();
  for (const group of list.split(";")) {
    const [sign, ...all] = group.split(" ");
    if (length(sign) !== 1 || !known.includes(sign)) wrong.push(`no sign: ${sign}`);
    for (const word of all) {
      if (seen.has(word)) wrong.push(`${word} means ${seen.get(word)} and ${sign}`);
      if (/[A-Z?.,!\u2019]/.test(word) || word === "") wrong.push(`“${word}” is never met`);
      seen.set(word, sign);
    }
  }
  const signs = new Set(seen.values());
  for (const sign of "pnbrqkwsAGFMVDCWLH") if (!signs.has(sign)) wrong.push(`no word means ${sign}`);
  return wrong;
}

/** In French a space that does not break is before : ; ? ! % and within « ». */
function spaces(code, text) {
  if (code !== "fr") return [];
  const wrong = pairs(text).filter(([key, it]) => key !== "vocabulary" && / [:;?!%»]|« |[^\s\u00a0][:?!»]|«[^\u00a0]/.test(it));
  return wrong.map(([key, it]) => `${key}: ${it}`);
}

const CHECKS = [
  ["is a list of pairs that the script reads as it is written", form],
  ["has every key of English, no other, in its order", keys],
  ["keeps the placeholders, and begins and ends as its places need", places],
  ["has no text that is much longer than its place", lengths],
  ["says numbers in a form that is right for each", plurals],
  ["has texts of their own for one", singular],
  ["writes thousands and percent as CLDR does", numbers],
  ["writes moves with its piece letters or with English ones", letters],
  ["has one meaning for each word that can be typed", typed],
  ["asks its questions in words that the core can meet", vocabulary],
  ["keeps spaces where a line must not break", spaces],
];

// --- a file that is spoiled is found ---

const at = (key, from, to) => (text) => text.replace(new RegExp(`^  ${key}: .*$`, "m"), (line) => line.replace(from, to));
const SPOILED = [
  ["a line without its comma", form, "de", at("back", ",", "")],
  ["another code", form, "de", (text) => text.replace(".de =", ".fr =")],
  ["a key that is missing", keys, "fr", at("back", /.*/, "")],
  ["a key that is unknown", keys, "es", at("back", "back", "backward")],
  ["two keys that have changed places", keys, "it", (text) => text.replace(/(  back: .*\n)(  next: .*\n)/, "$2$1")],
  ["a placeholder that is lost", places, "nl", at("moves", "{from}", "f1")],
  ["a placeholder that is unknown", places, "pt", at("after", "{move}", "{lance}")],
  ["a space that is lost", places, "pl", at("white", ": \",", ":\",")],
  ["a button that is too long", lengths, "fr", at("next", "suite", "continuer plus loin")],
  ["a row that is too long", lengths, "es", at("turn", "girar", "volverse")],
  ["a noun for 2 beside 5", plurals, "pl", at("lines", "Warianty ({count})", "{count} warianty")],
  ["a noun for 5 beside 22", plurals, "pl", at("nextDays", "dni", "dnia")],
  ["a singular beside 2", plurals, "it", at("lines", "varianti", "variante")],
  ["a singular beside half-moves", plurals, "it", at("asideDepth", "semimosse", "semimossa")],
  ["a noun for 2 after a noun that asks for another", plurals, "pl", at("asideMuch", "pionków", "pionki")],
  ["a plural that is said of 1 too", plurals, "pt", at("sinceThen", /"L.*"/, "\"{count} lances desde então.\"")],
  ["a comma between thousands", numbers, "de", at("countsGroup", "\".\"", "\",\"")],
  ["letters of another language", letters, "fr", at("P038", "=F", "=A")],
  ["a letter that is another piece in English", letters, "nl", at("desk", "Lc4", "Pf3")],
  ["two buttons of one name", typed, "es", at("next", "seguir", "atrás")],
  ["a button named by its old name", typed, "fr", at("againstSaid", "suite", "suivant")],
  ["a word with two meanings", vocabulary, "pl", at("vocabulary", "hetman ", "hetman król ")],
  ["a space that breaks", spaces, "fr", at("moveMeans", "\u00a0", " ")],
];

let [passed, failed] = [0, 0];
function test(name, wrong) {
  if (wrong.length) failed += 1;
  else passed += 1;
  if (wrong.length) console.log(`FAILED ${name}${wrong.map((it) => `\n    ${it}`).join("")}`);
}

test("English is read", ENGLISH.length > 280 && english.size === ENGLISH.length ? [] : [`${ENGLISH.length} texts`]);
for (const code of Object.keys(files)) for (const [name, check] of CHECKS) test(`${code} ${name}`, check(code, files[code]));
// What is said of several in English, too.
const inEnglish = ENGLISH.map(([key, text]) => `  ${key}: ${JSON.stringify(text)},`).join("\n");
test("en says numbers in a form that is right for each", plurals("en", inEnglish));
for (const [name, check, code, spoil] of SPOILED) {
  const text = spoil(files[code]);
  const found = text !== files[code] && check(code, text).length > 0;
  test(`${name} is found`, found ? [] : [`${code} is as good as before`]);
}
for (const [code, keys] of Object.entries(KNOWN)) {
  for (const key of keys) {
    KNOWN[code] = keys.filter((it) => it !== key);
    const text = code === "en" ? inEnglish : files[code];
    const wrong = plurals(code, text).some((it) => it.startsWith(`${key}:`));
    test(`${code} still says ${key} of 1 as of several`, wrong ? [] : ["take it off the list of numbers.mjs"]);
    KNOWN[code] = keys;
  }
}
console.log(`languages: ${passed} passed, ${failed} failed`);
process.exitCode = failed ? 1 : 0;
