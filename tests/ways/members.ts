// Uses every member of plyline.d.ts. tests/ways.mjs compiles it strictly, and once more against types in which each member
// has another name: then each must be missed here.

import { define, readLesson, ready, version } from "plyline";
import type { Current, Finding, Lesson, LessonNode, Plyline, PlyLineEvents, Verdict } from "plyline";
import type { PlyDiagram, PlyLine, PlyProse, PlyQuiz, PlyRecall, PlyRecap, PlyRef } from "plyline";
import "plyline/plyline.js";
import "plyline/words/de.js";

type Is<T> = (value: T) => void;
declare const text: Is<string>;
declare const texts: Is<string[]>;
declare const maybe: Is<string | null>;
declare const number: Is<number>;
declare const yes: Is<boolean>;

// The functions, of the module and of the classic script.
const modules: Plyline = { readLesson, define, ready, version };
for (const it of [modules, globalThis.plyline]) {
  it.define();
  await it.ready();
  text(it.version);
  const read = await it.readLesson("1. e4 *", { game: 1 });
  if (read.lesson) aLesson(read.lesson);
  read.findings.forEach(aFinding);
}

function aLesson(lesson: Lesson): void {
  maybe(lesson.tags.Event ?? null);
  text(lesson.start);
  text(lesson.result satisfies "1-0" | "0-1" | "1/2-1/2" | "*");
  const found: number | null = lesson.find("1.e4");
  const node = lesson.node(found ?? 0);
  if (node) aNode(node);
  for (const row of lesson.outline()) {
    text(row.line);
    number(row.node + row.depth);
    texts(row.moves);
  }
  maybe(lesson.toPgn());
  lesson.free();
}

function aNode(node: LessonNode): void {
  number(node.id + (node.parent ?? 0) + node.ply);
  for (const it of [...node.children, ...node.nags]) number(it);
  for (const it of [node.san, node.uci, node.before, node.comment, node.choice, node.line]) maybe(it);
  text(node.fen);
  for (const { kind, squares } of node.marks) texts([kind satisfies "plain" | "strong" | "weak", ...squares]);
  if (node.ask) for (const it of [node.ask.prompt, node.ask.hint, node.ask.because]) maybe(it);
}

function aFinding(finding: Finding): void {
  for (const it of [finding.code, finding.message]) text(it);
  text(finding.severity satisfies "error" | "warning" | "hint");
  number(finding.from + finding.to + finding.line + finding.column);
  maybe(finding.help ?? null);
  if (finding.fix) maybe(finding.fix.text.slice(finding.fix.from, finding.fix.to));
}

function aPlace(current: Current): void {
  number(current.node + current.ply);
  for (const it of [current.san, current.uci, current.line, current.comment]) maybe(it);
  text(current.fen);
  texts(current.moves);
  texts(current.next);
  texts(current.aside);
}

// The elements, by their tags.
const line: PlyLine = document.querySelector("ply-line")!;
for (const it of [line.text, line.at, line.side, line.letters, line.src]) maybe(it);
for (const it of [line.counts, line.assessments, line.answers, line.talk]) maybe(it);
const itself: HTMLElementTagNameMap["ply-line"] = await line.ready;
if (itself.lesson) aLesson(itself.lesson);
if (line.current) aPlace(line.current);
line.findings.forEach(aFinding);
for (const done of [line.go("4.d4"), line.go(3), line.next(), line.next(1), line.back(), line.flip(), line.play("e4")]) yes(done);
for (const done of [line.hear(), line.hear(3), line.hear("3.d4")]) yes(done);
number(line.hearing ?? 0);
line.following = false;

const diagram: PlyDiagram = document.createElement("ply-diagram");
for (const it of [diagram.htmlFor, diagram.side, diagram.at, diagram.fen, diagram.marks]) maybe(it);
diagram.findings.forEach(aFinding);
maybe((await diagram.ready).fen);

const recap: PlyRecap = document.createElement("ply-recap");
for (const it of [recap.htmlFor, recap.side]) maybe(it);
recap.findings.forEach(aFinding);
maybe((await recap.ready).side);

const ref: PlyRef = document.createElement("ply-ref");
for (const it of [ref.htmlFor, ref.at]) maybe(it);
ref.findings.forEach(aFinding);
maybe((await ref.ready).at);

const prose: PlyProse = document.createElement("ply-prose");
maybe(prose.htmlFor);
prose.findings.forEach(aFinding);
maybe((await prose.ready).htmlFor);

const quiz: PlyQuiz = document.createElement("ply-quiz");
for (const it of [quiz.htmlFor, quiz.accept, quiz.moves, quiz.state, quiz.src]) maybe(it);
const verdict: Verdict | null = quiz.answer("e4");
maybe(verdict satisfies "right" | "fair" | "weaker" | "other" | "illegal" | null);
for (const done of [quiz.hint(), quiz.show(), quiz.again(), quiz.go(1)]) yes(done);
maybe((await quiz.ready).accept);

const recall: PlyRecall = document.createElement("ply-recall");
maybe(recall.htmlFor);
recall.remember = true;
if (recall.progress) {
  const { positions, due, changed, waiting, next, new: fresh } = recall.progress;
  number(positions + fresh + due + changed + waiting);
  maybe(next);
}
maybe(recall.exportProgress());
yes(recall.importProgress("{}"));
recall.forget();
maybe((await recall.ready).side);

// The events, at an element and at the document around it.
line.addEventListener("ply-ready", ({ detail }) => detail.findings.forEach(aFinding));
line.addEventListener("ply-moved", ({ detail }) => (aPlace(detail), text(detail.by satisfies "reader" | "script" | "address" | "talk")));
quiz.addEventListener("ply-answered", ({ detail }) => maybe(detail.move ?? detail.fen ?? detail.verdict + detail.tries));
quiz.addEventListener("ply-settled", ({ detail }) => text(detail.how + detail.tries));
line.addEventListener("ply-answered-aside", ({ detail }) => {
  texts([detail.fen, ...detail.line]);
  number(detail.gain.pawns + (detail.gain.mate ?? 0) + detail.gain.depth);
  yes(detail.complete);
});
line.addEventListener("ply-failed", ({ detail }) => text(detail.message + (detail.reason satisfies "core" | "source" | "notation")));
const heard: PlyLineEvents["ply-moved"] = new CustomEvent("ply-moved");
document.body.addEventListener("ply-moved", (event) => text(event.detail.fen + heard.type));
document.addEventListener("ply-moved", (event) => text(event.detail.fen));

// What must not compile.
// @ts-expect-error only a lesson has counts
quiz.counts;
// @ts-expect-error it cannot be set
line.current = null;
// @ts-expect-error a prose has no board
prose.side;
// @ts-expect-error no such event
line.addEventListener("ply-moves", ({ detail }) => detail);
