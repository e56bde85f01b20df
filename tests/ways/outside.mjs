// What tests/ways.mjs has read by tools from outside: the types by the compiler, the manifest by its schema, and the files
// of the build against each other.

import { execFileSync, spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { cpSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { manifest, jsx, styling, withTables } from "../../www/pack/describe.mjs";
import { allMembers, interfaces, surface } from "../../www/pack/surface.mjs";

const SETTINGS = {
  compilerOptions: {
    strict: true, exactOptionalPropertyTypes: true, noUncheckedIndexedAccess: true, noEmit: true, skipLibCheck: false,
    target: "es2022", module: "nodenext", lib: ["es2022", "dom", "dom.iterable"], types: [],
  },
  files: ["members.ts"],
};

/** Compiles a file that uses every member, and once more against types without them. */
export async function typed({ root, folder, packed, test }) {
  const own = join(folder, "node_modules/plyline");
  packed(own);
  cpSync(join(root, "tests/ways/members.ts"), join(folder, "members.ts"));
  writeFileSync(join(folder, "package.json"), '{ "type": "module" }');
  writeFileSync(join(folder, "tsconfig.json"), JSON.stringify(SETTINGS));
  const compile = () => spawnSync("tsc", ["--pretty", "false"], { cwd: folder, encoding: "utf8" }).stdout.split("\n").filter((it) => it.startsWith("members.ts"));
  await test("the types compile strictly where every member is used", compile);
  // Each is given another name, and the compiler has to miss it under its own: members, and then tags and events.
  await test("and no member of them is left out there", () => {
    const file = join(own, "plyline.d.ts");
    const text = readFileSync(file, "utf8");
    const all = interfaces(text);
    const lines = readFileSync(join(folder, "members.ts"), "utf8").split("\n");
    const missed = (from, to) => {
      writeFileSync(file, text.replaceAll(from, to));
      return compile().map((said) => ({ said, line: lines[Number(/^members\.ts\((\d+)/.exec(said)[1]) - 1] }));
    };
    const members = missed(/^( {2}(?:readonly )?)(\w+)(?=[?(:])/gm, "$1$2_gone");
    const names = missed(/^( +)"ply-([\w-]+)":/gm, '$1"gone-$2":');
    const isMissed = (owner, name) => {
      if (name.startsWith("ply-")) return names.some(({ line }) => line.includes(`"${name}"`));
      const heirs = Object.keys(all).filter((heir) => allMembers(all, heir).some((one) => all[owner].members.includes(one)));
      return members.some(({ said }) => said.includes(`'${name}'`) && heirs.some((type) => new RegExp(`'${type}\\b`).test(said)));
    };
    const left = Object.entries(all).flatMap(([owner, it]) => it.members.filter(({ name }) => !isMissed(owner, name)).map(({ name }) => `${owner}.${name}`));
    return Object.keys(all).length > 15 ? left : [`only ${Object.keys(all)}`];
  });
}

/** The manifest, the JSX types, the tables and the policy are those of the source. */
export async function described({ root, dist, tools, policy, test }) {
  const read = (path) => readFileSync(join(root, path), "utf8");
  const found = surface(root);
  const written = readFileSync(join(dist, "custom-elements.json"), "utf8");
  await test("the manifest is valid by its schema", () => {
    const require = createRequire(join(tools, "npm/"));
    const { default: Ajv } = require("ajv");
    const validate = new Ajv({ allErrors: true, strict: false }).compile(require("custom-elements-manifest/schema.json"));
    const errors = validate(JSON.parse(written)) ? [] : validate.errors.map((it) => `${it.instancePath} ${it.message}`);
    const spoiled = JSON.parse(written);
    delete spoiled.modules[0].declarations[0].name;
    return [...errors, ...(validate(spoiled) ? ["a declaration without a name passes too"] : [])];
  });
  await test("the manifest and the types of JSX are made from the source as it is", () => [
    ...(manifest(found) === written ? [] : ["custom-elements.json is old: sh www/build.sh"]),
    ...(jsx(found) === readFileSync(join(dist, "jsx.d.ts"), "utf8") ? [] : ["jsx.d.ts is old: sh www/build.sh"]),
  ]);
  await test("the tables of www/styling.md are made from the source as it is", () => {
    const page = read("www/styling.md");
    return withTables(page, styling(found)) === page ? [] : ["they are old: node www/pack/describe.mjs"];
  });
  await test("what is in the source and not described is an error", () => spoiledSources(root));
  await test("the guide, the example and the test server have the policy that the build prints", () => {
    const plain = (text) => text.replaceAll(/\\\n\s*/g, "");
    return ["www/guide/script.md", "examples/server/README.md", "tests/support/server.rs"].filter((path) => !plain(read(path)).includes(policy));
  });
}

/** Changes of the source that have to be noticed, each in a copy of it. */
function spoiledSources(root) {
  const SPOILED = [
    ["www/css/host.css", "var(--ply-paper", "var(--ply-sheet"],
    ["www/css/figure.css", "var(--ply-board, 100%)", "var(--ply-board, 90%)"],
    ["src/markup/lesson.rs", '.with("part", "lines")', '.with("part", "text")'],
    ["src/markup/recap.rs", '.with("part", "table")', ""],
    ["src/check/attributes.rs", 'row("marks", "Marks"', 'row("signs", "Signs"'],
    ["src/edge/answer_events.rs", '"ply-settled"', '"ply-answer"'],
    ["www/plyline.d.ts", '    "ply-recap": PlyRecap;\n', ""],
    ["www/plyline.d.ts", "  /** One move back; true when it changed something. */\n", ""],
    ["www/plyline.d.ts", "  marks: string | null;\n}", "}"],
  ];
  const copy = join(root, "target/ways-source");
  const wrong = [];
  for (const part of ["www/css", "www/page", "www/plyline.d.ts", "src/check", "src/edge", "src/markup"]) cpSync(join(root, part), join(copy, part), { recursive: true });
  for (const [path, from, to] of SPOILED) {
    const text = readFileSync(join(copy, path), "utf8");
    writeFileSync(join(copy, path), text.replace(from, to));
    let noticed = "";
    try {
      surface(copy);
    } catch ({ message }) {
      noticed = message;
    }
    writeFileSync(join(copy, path), text);
    if (text === text.replace(from, to)) wrong.push(`${path} has no ${from}`);
    else if (!noticed.startsWith("www/pack/surface.mjs: ")) wrong.push(`${from} in ${path} became “${to}”: ${noticed || "nothing was said"}`);
  }
  rmSync(copy, { recursive: true, force: true });
  return wrong;
}

/** Bundles what was compiled twice, from two folders into two folders. How hard zopfli tries changes no file's being the same. */
export function bundledTwice(root, folder, policy) {
  let said = "";
  const [first, second] = ["one", "two"].map((name) => {
    const work = `target/ways-${name}`;
    const out = join(folder, `bundled-${name}`);
    rmSync(join(root, work), { recursive: true, force: true });
    for (const part of ["", "counts/", "answers/"]) {
      mkdirSync(join(root, work, part), { recursive: true });
      for (const file of ["core.wasm", "names.json", "plyline.js"]) cpSync(join(root, "target/page", part, file), join(root, work, part, file));
      cpSync(join(root, "target/page", part, "snippets"), join(root, work, part, "snippets"), { recursive: true });
    }
    cpSync(join(root, "target/page/unsort.wasm"), join(root, work, "unsort.wasm"));
    mkdirSync(out);
    said = execFileSync("node", ["www/pack/bundle.mjs", work, out, "0.0.0"], { cwd: root, env: { ...process.env, PLYLINE_ZOPFLI: "1" }, encoding: "utf8", stdio: "pipe" });
    rmSync(join(root, work), { recursive: true, force: true });
    return out;
  });
  const names = readdirSync(first);
  const differ = names.filter((name) => !readFileSync(join(first, name)).equals(readFileSync(join(second, name))));
  const has = names.length > 15 && String(names) === String(readdirSync(second));
  // What the build prints for a site to copy.
  const hash = (name) => createHash("sha384").update(readFileSync(join(second, name))).digest("base64");
  const lines = ["plyline.js", "plyline.mjs", "plyline.css"].map((name) => `${name}: integrity="sha384-${hash(name)}"`);
  const unsaid = [...lines, `Content-Security-Policy: ${policy}`].filter((line) => !said.split("\n").includes(line));
  return [...differ, ...unsaid.map((line) => `not printed: ${line}`), ...(has ? [] : [`${names}`])];
}
