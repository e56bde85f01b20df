// The types of what plyline.js and plyline.mjs offer a page. Hand-written: this is the contract.

export interface Plyline {
  /** Reads a text; `lesson` is null if it has no such game. `game` counts from 1; `letters` is the language
   * in whose piece letters a game is written that does not say so itself. */
  readLesson(text: string, options?: { game?: number; letters?: string }): Promise<{ lesson: Lesson | null; findings: Finding[] }>;
  /** Defines the elements. The script has done so; a second call does nothing. */
  define(): void;
  /** Loads everything, and as modules the elements other than `<ply-line>` too; an element does so by itself. */
  ready(): Promise<void>;
  /** The version of the script. */
  readonly version: string;
}

/** A validated lesson. `free()` gives its memory back at once. */
export interface Lesson {
  readonly tags: Record<string, string>;
  /** The start as FEN. */
  readonly start: string;
  readonly result: "1-0" | "0-1" | "1/2-1/2" | "*";
  /** The node that a locator such as "4.cxd5 exd5" or "line B2" names; null for none or several. */
  find(locator: string): number | null;
  node(id: number): LessonNode | null;
  outline(): { line: string; node: number; depth: number; moves: string[] }[];
  /**
   * PGN in the standard's export format. Null if the text holds more than the lesson: words that
   * could not be read, a tag, a variation or a sign that was ignored. Whoever stores what they
   * are given would lose it; `findings` say what it is, and `plyline export` refuses the same games.
   */
  toPgn(): string | null;
  free(): void;
}

export interface LessonNode {
  id: number;
  parent: number | null;
  children: number[];
  ply: number;
  san: string | null;
  uci: string | null;
  fen: string;
  nags: number[];
  before: string | null;
  comment: string | null;
  marks: { kind: "plain" | "strong" | "weak"; squares: string[] }[];
  choice: string | null;
  ask: { prompt: string; hint: string | null; because: string | null } | null;
  line: string | null;
}

/** What the checker says. `from` and `to` count UTF-16 units, as JavaScript does. */
export interface Finding {
  code: string;
  severity: "error" | "warning" | "hint";
  message: string;
  from: number;
  to: number;
  line: number;
  column: number;
  help?: string;
  fix?: { from: number; to: number; text: string };
}

/** Where a reader is. */
export interface Current {
  node: number;
  ply: number;
  san: string | null;
  uci: string | null;
  fen: string;
  /** The SANs from the start. */
  moves: string[];
  line: string | null;
  comment: string | null;
  /** The SANs of the next moves. */
  next: string[];
  /** The SANs tried since the lesson was left. */
  aside: string[];
}

/** What a lesson, a question and a recall have in common: a board of their own, on which a reader moves. */
interface PlyBoard extends HTMLElement {
  /** The notation; comes before a <pre> child and `src`. */
  text: string | null;
  /** Where the reader begins: a locator such as "4.cxd5 exd5" or "line B2"; the start where there is none. */
  at: string | null;
  /** Which side is below, "white" or "black". */
  side: string | null;
  /** In whose piece letters moves are shown, and typed: a language such as "de", or "figurine". */
  letters: string | null;
  /** The address of a PGN file; `#n` names its n-th game. A <pre> child comes before it. */
  src: string | null;
  /** Settles when the lesson is read, or cannot be read; it is drawn when it nears the view. */
  readonly ready: Promise<this>;
  /** The lesson that was read; null before, and if there is none. */
  readonly lesson: Lesson | null;
  /** Those of the article around it too, if `[Prose "yes"]` is set; see PlyProse. */
  readonly findings: Finding[];
  /** Where the reader is; null before the lesson is read. */
  readonly current: Current | null;
  /** To a node or a locator; true when it changed something. */
  go(place: number | string): boolean;
  /** One move on: the next move with that index, else the first. True when it changed something. */
  next(choice?: number): boolean;
  /** One move back; true when it changed something. */
  back(): boolean;
  /** Turns the board; true when it changed something. */
  flip(): boolean;
  /** Plays a move, in English SAN or UCI; true when it was legal. One that the lesson does not hold is an aside. */
  play(move: string): boolean;
}

/** A lesson. */
export interface PlyLine extends PlyBoard {
  /** The address of a counts file of `plyline tally`, read with the lesson; needs plyline-more.mjs, which `ready()` loads. */
  counts: string | null;
  /** The address of an assessments file of `plyline weigh --engine`, the same. */
  assessments: string | null;
  /** With "search" what a reader tries beside the lesson is answered by a search in the page, the same; not from disk. */
  answers: string | null;
  /** The id of the element that plays the talk about the lesson; see `hear`. */
  talk: string | null;
  /**
   * Plays what the talk says of a node or a locator, of the position on the board where there is none, from the passage
   * that explains it; true when it does. This and the next two need plyline-more.mjs, which a lesson with `Hear:` loads.
   */
  hear(place?: number | string): boolean;
  /** The node of which the talk speaks now; null between passages, before it plays and when it has ended. */
  readonly hearing: number | null;
  /** Whether the board follows the talk while it plays; true until a step that is not the talk's. */
  following: boolean;
}

/** What the elements have in common that are about a lesson elsewhere on the page. */
interface PlyCompanion extends HTMLElement {
  /** The attribute `for`: the id of a lesson; not needed where the page has one. */
  htmlFor: string | null;
  /** Settles when it is read, or cannot be read; it is drawn when it nears the view. */
  readonly ready: Promise<this>;
  /** With an error among them it shows the text between its tags. */
  readonly findings: Finding[];
}

/** What diagrams and recaps have in common: they show, and change nothing. */
interface PlyStill extends PlyCompanion {
  /** The attribute `side`: which side is below, or taught; else the lesson's own, else White. */
  side: string | null;
}

/** One still diagram. */
export interface PlyDiagram extends PlyStill {
  /** A position of the lesson, such as "4.cxd5 exd5"; its start where there is none. */
  at: string | null;
  /** Any placement instead; the first field of a FEN is enough. */
  fen: string | null;
  /** `c5 !e4 ?b4-b5`, instead of the marks of the position's comment. */
  marks: string | null;
}

/** The closing table of what one side plays. */
export interface PlyRecap extends PlyStill {}

/**
 * A place of a lesson named in a sentence. Its own <a> moves the lesson; without one its content
 * becomes a link. With a finding it stays as it was written.
 */
export interface PlyRef extends PlyCompanion {
  /** The place, such as "4.cxd5 exd5"; it may continue with legal moves that the lesson does not hold. */
  at: string | null;
}

/**
 * An article whose sentences name moves of a lesson; `ready` settles when it has been read. `from`,
 * `to`, `line` and `column` of its findings count in the text of the paragraph.
 */
export interface PlyProse extends PlyCompanion {}

/** What a try at a question is: right, sound but not the choice, marked weak, not in the lesson, not legal. */
export type Verdict = "right" | "fair" | "weaker" | "other" | "illegal";

/**
 * A question with a board of its own; the text between its tags is the prompt. While it is open
 * it stays at its position.
 */
export interface PlyQuiz extends PlyBoard {
  /** The attribute `for`: the id of a lesson; not needed where the page has one. */
  htmlFor: string | null;
  /** The moves that are right in place of the lesson's choices. */
  accept: string | null;
  /** How many moves to find in a row, 1 to 8. */
  moves: string | null;
  /** Null before it is read, and if it cannot be asked. */
  readonly state: "open" | "settled" | null;
  /** Tries a move, in English SAN or UCI; null if no answer is expected. */
  answer(move: string): Verdict | null;
  /** Gives a hint, a stronger one each time; true when it changed something, as with the two below. */
  hint(): boolean;
  /** Shows the answer. */
  show(): boolean;
  /** Begins again, from any state. */
  again(): boolean;
}

/** A lesson, or what follows one of its moves, walked from memory at a board of its own. */
export interface PlyRecall extends PlyBoard {
  /** The attribute `for`: the id of a lesson; not needed where the page has one. */
  htmlFor: string | null;
  /** Whether the reader may have progress kept on the device. */
  remember: boolean;
  /** The progress today; null if there is nothing to recall. */
  readonly progress: {
    positions: number;
    new: number;
    due: number;
    /** Those of `due` whose choice the author has changed. */
    changed: number;
    waiting: number;
    /** The first day, `YYYY-MM-DD`, on which one that waits is due. */
    next: string | null;
  } | null;
  /** All progress, of other lessons of the series too, as JSON with a version. */
  exportProgress(): string | null;
  /** Merges such a text: where both know a position, the later answer stays. False if it cannot be read. */
  importProgress(json: string): boolean;
  /** Forgets it all, in the page and on the device. */
  forget(): void;
}

export interface PlyLineEvents {
  /** A lesson has been read; again when another of its file is chosen or its text is set again. */
  "ply-ready": CustomEvent<{ findings: Finding[] }>;
  /** The position on the board has changed, and who changed it. */
  "ply-moved": CustomEvent<Current & { by: "reader" | "script" | "address" | "talk" }>;
  /**
   * A try at a question, of a lesson too: `move` in English SAN, null if it is not legal, `fen`
   * the position before it, `tries` the legal ones so far.
   */
  "ply-answered": CustomEvent<{ verdict: Verdict; move: string | null; fen: string; tries: number }>;
  /** A question is answered or shown; once for each of several that are opened at once. */
  "ply-settled": CustomEvent<{ how: "answered" | "shown"; tries: number }>;
  /**
   * A lesson with `answers="search"` has searched an aside, whose position is `fen`: what its last move gains for the side
   * that played it, in pawns, or in how many moves that side mates (below 0: is mated), how many half-moves deep every
   * reply was tried, and the moves that show it, the first a reply. `complete` is false where nothing could be searched.
   */
  "ply-answered-aside": CustomEvent<{ fen: string; gain: { pawns: number; mate: number | null; depth: number }; line: string[]; complete: boolean }>;
  /** Nothing can be shown, and why: the core could not be loaded or ended, a file could not be had, or there is no notation. */
  "ply-failed": CustomEvent<{ reason: "core" | "source" | "notation"; message: string }>;
}

/** What the modules export; `plyline.js` sets the same as `globalThis.plyline`. */
export const readLesson: Plyline["readLesson"];
export const define: Plyline["define"];
export const ready: Plyline["ready"];
export const version: string;

declare global {
  var plyline: Plyline;
  interface HTMLElementTagNameMap {
    "ply-line": PlyLine;
    "ply-diagram": PlyDiagram;
    "ply-recap": PlyRecap;
    "ply-ref": PlyRef;
    "ply-prose": PlyProse;
    "ply-quiz": PlyQuiz;
    "ply-recall": PlyRecall;
  }
  interface HTMLElementEventMap extends PlyLineEvents {}
  interface DocumentEventMap extends PlyLineEvents {}
}
