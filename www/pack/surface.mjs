// What plyline offers a page, read from its source: elements with attributes, members, events, parts and custom
// properties. describe.mjs writes it down for editors, frameworks and people; tests/ways.mjs holds it against a browser.
// What has no meaning written beside it, or is named here and gone from the source, is an error.

import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";

/** The elements that have a board of their own, and all that draw something. */
const BOARDS = ["ply-line", "ply-quiz", "ply-recall"];
const DRAWN = [...BOARDS, "ply-diagram", "ply-recap"];

/** What each element is. */
const ELEMENTS = {
  "ply-line": "A lesson: outline, moves with their comments, and a board that follows the reader.",
  "ply-diagram": "One position that does not move.",
  "ply-recap": "The closing table: what one side plays, and why.",
  "ply-ref": "A place of a lesson named in a sentence.",
  "ply-prose": "An article whose sentences name moves of a lesson.",
  "ply-quiz": "A question with a board of its own.",
  "ply-recall": "A lesson, or a part of one, walked from memory.",
};

/** Attributes whose property is not ours, or that have none. */
const BARE = {
  id: "The name by which links, addresses and other elements mean this lesson.",
  letters: "In whose piece letters moves are shown, and typed moves are read first: a language (`de`, `fr` …) or `figurine`; without it those of the tag `Letters`, else of the nearest `lang`.",
};

/** Members that tests and the script itself use. They may change at any time. */
const PRIVATE = { made: [...BOARDS] };

/** Who sends an event. */
const EVENTS = {
  "ply-ready": BOARDS,
  "ply-moved": BOARDS,
  "ply-answered": BOARDS,
  "ply-settled": BOARDS,
  "ply-answered-aside": ["ply-line"],
  "ply-failed": Object.keys(ELEMENTS),
};

/** What can be styled by `::part()`: meaning and elements. */
const PARTS = {
  outline: ["the list of variations above the moves", ["ply-line"]],
  lines: ["the moves with their comments", ["ply-line"]],
  figure: ["the board with its caption and what is below it", [...BOARDS, "ply-diagram"]],
  table: ["the table of a recap", ["ply-recap"]],
};

/** Custom properties: meaning, what is there without it, elements, and the defaults as the style sheets write them. */
const PROPERTIES = {
  "--ply-accent": [
    "colour of labels, the current move and the signs on the board",
    "a red as light as the page's ink needs it",
    DRAWN,
    ["oklch(from currentColor calc(0.43 + clamp(0, (l - 0.5) * 100, 1) * 0.35) 0.12 15)"],
  ],
  "--ply-board": ["the board's maximum width", "its place; `20rem` for a diagram, `16rem` for one in the text", DRAWN, ["100%", "16rem", "20rem"]],
  "--ply-paper": [
    "the page's background, if the script cannot find it: the background of the board that stays while the text scrolls",
    "the background that the script finds",
    BOARDS,
    ["var(--paper-found, Canvas)"],
  ],
  "--ply-square": ["`hatch` draws dark squares hatched, as in old books", "a tint of the page's ink", [...BOARDS, "ply-diagram"], []],
};

/** The source could not be read as this file expects, or is not described here. */
const fail = (...wrong) => {
  throw new Error(`www/pack/surface.mjs: ${wrong.join("\n  ")}`);
};

/** Whether two lists have the same names, else an error that says which are on one side alone. */
function same(what, found, named) {
  const only = (one, other) => [...new Set(one)].filter((it) => !other.includes(it)).join(", ");
  const [more, less] = [only(found, named), only(named, found)];
  if (more) fail(`${what}: the source has ${more}, which is not described`);
  if (less) fail(`${what}: ${less} is described and not in the source`);
}

function files(folder, ending) {
  const entries = readdirSync(folder, { recursive: true }).filter((name) => name.endsWith(ending));
  return entries.map((name) => readFileSync(join(folder, name), "utf8"));
}

/** Interfaces of a file of types: name -> { extends, members }, as it writes them, a member beginning at two spaces. */
export function interfaces(text) {
  const found = {};
  for (const [, space, name, bases = "", inner = ""] of text.matchAll(/^( *)(?:export )?interface (\w+)(?: extends ([^{]+))? \{(?:\}|\n(.*?)^\1\})$/gms)) {
    const members = [];
    const body = inner.replaceAll(new RegExp(`^${space}`, "gm"), "");
    const parts = body.matchAll(/^ {2}(?:\/\*\*((?:[^*]|\*(?!\/))*)\*\/\n {2})?(readonly )?("?[\w-]+"?)(\?)?(\(.*?\))?: (.*?);$(?!\n {4}|\n {2}\})/gms);
    for (const [, says = "", readonly, key, , parameters, type] of parts) {
      const description = says.replaceAll(/\s*\n\s*\*?\s*/g, " ").trim();
      members.push({ name: key.replaceAll('"', ""), description, readonly: Boolean(readonly), parameters, type });
    }
    found[name] = { bases: bases.split(",").map((it) => it.trim()).filter(Boolean), members };
  }
  return found;
}

/** The members of an interface and of those of ours that it extends, its own last. */
export function allMembers(all, name) {
  const { bases, members } = all[name] ?? fail(`there is no interface ${name}`);
  return [...bases.filter((it) => it !== "HTMLElement").flatMap((it) => allMembers(all, it)), ...members];
}

/** The attributes of src/check/attributes.rs, by element: { name, values }. */
function attributes(root) {
  const text = readFileSync(join(root, "src/check/attributes.rs"), "utf8");
  const tags = new Map([...text.matchAll(/\(Kind::(\w+), "(ply-\w+)", &\[/g)].map(([, kind, tag]) => [kind, tag]));
  same("elements", [...tags.values()], Object.keys(ELEMENTS));
  const found = {};
  const rows = [...text.matchAll(/\brow\(\s*"(\w+)",\s*"\w*",\s*Tagged::\w+,\s*Value::(\w+(?:\((?:\w+|&\[[^\]]*\])\))?),\s*&\[([\w,\s]*)\],?\s*\)/g)];
  if (rows.length !== text.match(/\brow\(\s*"/g).length) fail("a row of src/check/attributes.rs could not be read");
  for (const [, name, value, kinds] of rows) {
    const list = /^Word\((.*)\)$/.exec(value)?.[1];
    const words = list === "SIDES" ? ["white", "black"] : [...(list ?? "").matchAll(/"(\w+)"/g)].map(([, word]) => word);
    const type = { Flag: "boolean", Count: "string | number" }[value] ?? (words.map((it) => `"${it}"`).join(" | ") || "string");
    for (const kind of kinds.match(/\w+/g) ?? []) (found[tags.get(kind)] ??= []).push({ name, type });
  }
  return found;
}

/** The defaults of each custom property, in the order of the text. */
function defaults(css) {
  const found = {};
  for (const { 1: name, index, 0: head } of css.matchAll(/var\(\s*(--ply-\w+)\s*,\s*/g)) {
    let [depth, end] = [1, index + head.length];
    for (; depth; end += 1) depth += { "(": 1, ")": -1 }[css[end]] ?? 0;
    const value = css.slice(index + head.length, end - 1).replaceAll(/\s+/g, " ").trim();
    (found[name] ??= new Set()).add(value.replaceAll(/\( | \)/g, (it) => it.trim()));
  }
  return found;
}

/** Everything, by the names of the elements, and the functions of the script. */
export function surface(root) {
  const types = readFileSync(join(root, "www/plyline.d.ts"), "utf8");
  const all = interfaces(types);
  const classes = new Map(allMembers(all, "HTMLElementTagNameMap").map(({ name, type }) => [name, type]));
  same("HTMLElementTagNameMap", [...classes.keys()], Object.keys(ELEMENTS));

  const scripts = files(join(root, "www/page"), ".js").join("\n");
  const core = files(join(root, "src/edge"), ".rs").join("\n");
  const sent = [...`${scripts}\n${core}`.matchAll(/(?:send\([^"]*|CustomEvent\(|\(&)"(ply-[\w-]+)"|tellFailed\(/g)].map(([, name]) => name ?? "ply-failed");
  same("events", sent, Object.keys(EVENTS));
  same("PlyLineEvents", all.PlyLineEvents.members.map(({ name }) => name), Object.keys(EVENTS));

  const markup = files(join(root, "src/markup"), ".rs").join("\n");
  same("parts", [...markup.matchAll(/\.with\("part", "(\w+)"\)/g)].map(([, name]) => name), Object.keys(PARTS));

  const css = files(join(root, "www/css"), ".css").map((text) => text.replaceAll(/\/\*.*?\*\//gs, "")).join("\n");
  same("custom properties", [...`${css}\n${scripts}`.matchAll(/["(\s](--ply-\w+)/g)].map(([, name]) => name), Object.keys(PROPERTIES));
  const written = defaults(css);
  for (const [name, [, , , texts]] of Object.entries(PROPERTIES)) same(`defaults of ${name}`, [...(written[name] ?? [])], texts);

  const given = attributes(root);
  const chosen = (table, tag, of) => Object.entries(table).filter(([, it]) => of(it).includes(tag));
  const elements = Object.entries(ELEMENTS).map(([tag, description]) => {
    const members = allMembers(all, classes.get(tag));
    members.filter((it) => !it.description).forEach((it) => fail(`${tag}: nothing is said of ${it.name} in www/plyline.d.ts`));
    const hidden = chosen(PRIVATE, tag, (it) => it).map(([name]) => ({ name, isPrivate: true, readonly: true, type: "number" }));
    const fieldOf = (name) => members.find((it) => it.name === (name === "for" ? "htmlFor" : name));
    return {
      tag,
      className: classes.get(tag),
      description,
      members: [...members, ...hidden],
      attributes: (given[tag] ?? []).map(({ name, type }) => {
        const field = fieldOf(name);
        const says = field?.description ?? BARE[name] ?? fail(`${tag}: nothing is said of the attribute ${name}`);
        return { name, type, description: says, field: field?.name };
      }),
      events: chosen(EVENTS, tag, (it) => it).map(([name]) => all.PlyLineEvents.members.find((it) => it.name === name)),
      parts: chosen(PARTS, tag, (it) => it[1]).map(([name, [says]]) => ({ name, description: says })),
      properties: chosen(PROPERTIES, tag, (it) => it[2]).map(([name, [says, without]]) => ({ name, description: says, without })),
    };
  });
  elements.flatMap((it) => it.events).forEach((it) => it.description || fail(`nothing is said of ${it.name} in www/plyline.d.ts`));
  return { elements, functions: all.Plyline.members };
}
