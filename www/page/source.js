// Notation from an address or another lesson, to the clipboard, and as a file.

import { page } from "./document.js";
import { own } from "./words.js";

/** The notation at an address, without credentials, which of its games `#n` names, and
    whether it had to be read as Latin-1. */
export async function fetchNotation(element, url) {
  const game = /^#[1-9]\d*$/.test(url.hash) ? Number(url.hash.slice(1)) : null;
  url.hash = "";
  const answer = await fetch(url, { credentials: "omit" });
  if (!answer.ok) throw new Error(`${answer.status} ${answer.statusText}`.trim());
  // Many servers answer with the site's own page where a file is missing.
  if (/^text\/html\b/i.test(answer.headers.get("content-type"))) throw new Error(own(element, "noNotation"));
  const bytes = await answer.arrayBuffer();
  try {
    return [new TextDecoder("utf-8", { fatal: true }).decode(bytes), game, false];
  } catch {
    return [new TextDecoder("iso-8859-1").decode(bytes), game, true];
  }
}

/** Why a finding lets nothing be shown. */
export function reasonOf(finding) {
  return finding?.code === "P064" ? "source" : "notation";
}

/** Puts a text on the clipboard; false if the browser does not let it. */
export async function copy(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return false;
  }
}

/** Offers a text as a file, at the reader's request. */
export function save(text, name, type = "application/vnd.chess-pgn") {
  const link = page.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
