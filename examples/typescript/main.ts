// Moves a lesson from the page's own script. The types come with the package: elements by their tags, events by their names.

import { ready } from "plyline";
import type { Finding } from "plyline";

const line = document.querySelector("ply-line");
const where = document.querySelector("output");
if (!line || !where) throw new Error("the page has lost its lesson");

const say = ({ severity, code, message }: Finding): string => `${severity} ${code}: ${message}`;

line.addEventListener("ply-moved", ({ detail }) => {
  where.textContent = `${detail.san ?? "the start"}, moved by the ${detail.by}`;
});
line.addEventListener("ply-failed", ({ detail }) => console.error(detail.reason));

await ready();
await line.ready;
if (line.findings.length > 0) console.warn(line.findings.map(say).join("\n"));
line.go("3...Bf5");
