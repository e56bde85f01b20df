// Writes down what surface.mjs has read: the manifest of custom elements for editors (npm custom-elements-manifest has its
// schema), the types of JSX, and the tables of www/styling.md, which `node www/pack/describe.mjs` makes anew.

import { readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { surface } from "./surface.mjs";

const MODULE = "plyline.mjs";
const text = (type) => ({ text: type });

/** What is between the parentheses of a function, as the manifest has it. */
function parameters(written) {
  const list = written.slice(1, -1).match(/\w+\??: (?:\{[^}]*\}|[^,])+/g) ?? [];
  return list.map((it) => {
    const [, name, optional, type] = /^(\w+)(\?)?: (.*)$/s.exec(it);
    return { name, ...(optional && { optional: true }), type: text(type) };
  });
}

function member({ name, description, readonly, parameters: written, type, isPrivate }) {
  const said = { name, ...(description && { description }), ...(isPrivate && { privacy: "private" }) };
  if (!written) return { kind: "field", ...said, type: text(type.replaceAll(/\s+/g, " ")), ...(readonly && { readonly }) };
  return { kind: "method", ...said, parameters: parameters(written), return: { type: text(type) } };
}

/** The manifest of custom elements. */
export function manifest({ elements, functions }) {
  const reference = (name) => ({ name, module: MODULE });
  const calls = functions.map(({ name, description, parameters: written, type }) =>
    written
      ? { kind: "function", name, description, parameters: parameters(written), return: { type: text(type) } }
      : { kind: "variable", name, description, type: text(type) },
  );
  const classes = elements.map((it) => ({
    kind: "class",
    customElement: true,
    name: it.className,
    tagName: it.tag,
    description: it.description,
    superclass: { name: "HTMLElement" },
    attributes: it.attributes.map(({ name, description, type, field }) => ({ name, description, type: text(type), ...(field && { fieldName: field }) })),
    members: it.members.map(member),
    events: it.events.map(({ name, description, type }) => ({ name, description, type: text(type) })),
    slots: [{ name: "", description: "What is shown where the element cannot be drawn; a lesson's notation is in a `<pre>` here." }],
    ...(it.parts.length && { cssParts: it.parts.map(({ name, description }) => ({ name, description })) }),
    ...(it.properties.length && { cssProperties: it.properties.map(({ name, description }) => ({ name, description })) }),
  }));
  const exports = [
    ...functions.map(({ name }) => ({ kind: "js", name, declaration: reference(name) })),
    ...elements.map((it) => ({ kind: "custom-element-definition", name: it.tag, declaration: reference(it.className) })),
  ];
  const module = { kind: "javascript-module", path: MODULE, declarations: [...calls, ...classes], exports };
  return `${JSON.stringify({ schemaVersion: "2.1.0", modules: [module] }, null, 1)}\n`;
}

/** The types of our elements in JSX. */
export function jsx({ elements }) {
  const lines = elements.map((it) => {
    const own = it.attributes.filter(({ name }) => name !== "id").map(({ name, type }) => `${name}?: ${type} | undefined`);
    const events = it.events.map(({ name }) => `"${name}"`).join(" | ");
    return `      "${it.tag}": Props<${it.className}, { ${own.join("; ")} }, ${events}>;`;
  });
  return `// The types of plyline's elements in JSX, for React 19 and newer. Made by www/pack/describe.mjs of plyline's source.
// A listener is written with the event's name: onply-moved={(event) => …}. The notation is a <pre> between the tags.

import type { DetailedHTMLProps, HTMLAttributes } from "react";
import type { ${elements.map((it) => it.className).join(", ")}, PlyLineEvents } from "./plyline.js";

type Listeners<E extends keyof PlyLineEvents> = { [K in E as \`on\${K}\`]?: ((event: PlyLineEvents[K]) => void) | undefined };
type Props<T, A, E extends keyof PlyLineEvents> = DetailedHTMLProps<HTMLAttributes<T>, T> & A & Listeners<E>;

declare module "react" {
  namespace JSX {
    interface IntrinsicElements {
${lines.join("\n")}
    }
  }
}
`;
}

/** The tables of www/styling.md: custom properties, then parts. */
export function styling({ elements }) {
  const rows = (list, row) => {
    const found = new Map();
    for (const it of elements) for (const one of it[list]) found.set(one.name, { ...one, of: [...(found.get(one.name)?.of ?? []), it.tag] });
    return [...found.values()].map((one) => `${row(one)} | ${one.of.map((tag) => `\`${tag}\``).join(", ")} |`);
  };
  return [
    "| custom property | meaning | without it | elements |\n| --- | --- | --- | --- |",
    ...rows("properties", ({ name, description, without }) => `| \`${name}\` | ${description} | ${without}`),
    "\n| part | what it is | elements |\n| --- | --- | --- |",
    ...rows("parts", ({ name, description }) => `| \`${name}\` | ${description}`),
  ].join("\n");
}

/** A page with the tables between its two marks. */
export function withTables(page, tables) {
  const cut = /(<!-- made by www\/pack\/describe\.mjs -->\n).*?(\n<!-- end -->)/s;
  if (!cut.test(page)) throw new Error("www/styling.md has lost the marks around its tables");
  return page.replace(cut, (_, from, to) => from + tables + to);
}

/** Writes what the package carries of it. */
export function describe(root, dist) {
  const found = surface(root);
  writeFileSync(join(dist, "custom-elements.json"), manifest(found));
  writeFileSync(join(dist, "jsx.d.ts"), jsx(found));
  writeFileSync(join(dist, "jsx.js"), "// Types only: jsx.d.ts.\nexport {};\n");
  writeFileSync(join(dist, "global.d.ts"), '// plyline.js exports nothing: it sets globalThis.plyline, which plyline.d.ts declares.\nimport "./plyline.js";\n');
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const root = join(dirname(fileURLToPath(import.meta.url)), "../..");
  const file = join(root, "www/styling.md");
  writeFileSync(file, withTables(readFileSync(file, "utf8"), styling(surface(root))));
}
