"""A replacement for the program, to test the comparison itself: `fake_plyline.py tree FILE --json`.

It prints what python-chess reads. With FAKE_PLYLINE_SLIP=NAME in the environment it spoils one thing first, at the
last place in the file where that changes anything; see SLIPS.
"""
import copy
import json
import os
import sys

import reading


def put(field, change):
    """A slip that changes one field of a node."""
    def slip(node):
        node[field] = change(node[field])
    return slip


def fen(field, change):
    """A slip that changes one of the six fields of a FEN."""
    def slip(node):
        parts = node["fen"].split(" ")
        parts[field] = change(parts[field])
        node["fen"] = " ".join(parts)
    return slip


def king_takes_rook(node):
    if node["san"] and node["san"].startswith("O-O"):
        node["uci"] = node["uci"][:2] + ("a" if node["san"].startswith("O-O-O") else "h") + node["uci"][3:]


def on_text(change):
    """Only where there is text."""
    return lambda text: text and change(text)


# Name of the slip: the field that the comparison must name, and what the slip does to a node.
NODE_SLIPS = {
    "id": ("id", put("id", lambda at: at + 1)),
    "id-as-text": ("id", put("id", str)),
    "parent": ("parent", put("parent", lambda at: at and at - 1)),
    "children-order": ("children", put("children", lambda list_: list_[::-1])),
    "children-main-line-only": ("children", put("children", lambda list_: list_[:1])),
    "ply": ("ply", put("ply", lambda ply: ply + 1)),
    "san-without-check": ("san", put("san", on_text(lambda san: san.rstrip("+")))),
    "san-without-mate": ("san", put("san", on_text(lambda san: san.replace("#", "+")))),
    "san-castling-with-zeros": ("san", put("san", on_text(lambda san: san.replace("O", "0")))),
    "san-too-exact": ("san", put("san", on_text(lambda san: san.replace("Nf5", "Ngf5")))),
    "uci-of-a-pass": ("uci", put("uci", on_text(lambda uci: uci.replace("0000", "--")))),
    "uci-castling-takes-the-rook": ("uci", king_takes_rook),
    "fen-pieces": ("fen, pieces", fen(0, lambda part: part.replace("P", "p", 1))),
    "fen-side": ("fen, side", fen(1, lambda part: "b" if part == "w" else "w")),
    "fen-castling": ("fen, castling", fen(2, lambda part: "-")),
    "fen-en-passant": ("fen, en passant", fen(3, lambda part: "-")),
    "fen-half-moves": ("fen, half-moves", fen(4, lambda part: "0")),
    "fen-move-number": ("fen, move number", fen(5, lambda part: "1")),
    "fen-of-four-fields": ("fen", put("fen", lambda text: " ".join(text.split(" ")[:4]))),
    "nags-one-lost": ("nags", put("nags", lambda nags: nags[1:])),
    "nags-order": ("nags, order", put("nags", lambda nags: nags[::-1])),
    "before": ("before", put("before", on_text(lambda text: text + "."))),
    "before-lost": ("before", put("before", lambda text: None)),
    "comment": ("comment", put("comment", on_text(lambda text: text[1:]))),
    "comment-empty-for-null": ("comment", put("comment", lambda text: text or "")),
    "comment-without-paragraphs": ("comment, white space", put("comment", on_text(lambda t: t.replace("\n\n", " ")))),
    "comment-unfolded": ("comment, white space", put("comment", on_text(lambda text: text.replace(" ", "\n", 1)))),
    "marks": ("marks", put("marks", lambda marks: marks + [{"kind": "plain", "squares": ["e4"]}])),
    "choice": ("choice", put("choice", lambda choice: "")),
    "ask": ("ask", put("ask", lambda ask: {"prompt": "", "hint": None, "because": None})),
    "line-lost": ("line", put("line", lambda line: None)),
    "line-of-main-line": ("line", put("line", lambda line: line or "")),
    "line-by-depth-alone": ("line", put("line", lambda line: line and line[0])),
    "line-in-capitals": ("line", put("line", lambda line: line and line.upper())),
    "field-unknown": ("fields", lambda node: node.update(extra=1)),
    "node-emptied": ("fields", dict.clear),
} | {f"field-lost-{field}": ("fields", lambda node, field=field: node.pop(field)) for field in reading.NODE_FIELDS}

# The same for a game.
GAME_SLIPS = {
    "tags-value": ("tags", lambda game: game["tags"].update(Event="?")),
    "tags-filled-in": ("tags", lambda game: game["tags"].setdefault("Round", "?")),
    "tags-order": ("tags, order", lambda game: game.update(tags=dict(reversed(game["tags"].items())))),
    "start": ("start, move number", lambda game: game.update(start=game["start"][:-1] + "9")),
    "result": ("result", lambda game: game.update(result="0-1")),
    "nodes-last-lost": ("nodes", lambda game: game["nodes"].pop()),
    "nodes-none": ("nodes", lambda game: game["nodes"].clear()),
    "nodes-one-more": ("nodes", lambda game: game["nodes"].append(game["nodes"][-1])),
    "game-emptied": ("fields", dict.clear),
} | {f"game-field-lost-{field}": ("fields", lambda game, field=field: game.pop(field)) for field in reading.GAME_FIELDS}

# The same for everything that is printed: lines and exit code.
OUTPUT_SLIPS = {
    "games-last-lost": ("games", lambda lines: lines.pop()),
    "games-one-more": ("games", lambda lines: lines.append(lines[-1])),
    "games-none": ("games", list.clear),
    "games-null": ("object", lambda lines: lines.__setitem__(0, "null")),
    "games-no-json": ("JSON", lambda lines: lines.append("read 3 games")),
    "exit-code": ("exit code", lambda lines: None),
}
SLIPS = NODE_SLIPS | GAME_SLIPS | OUTPUT_SLIPS


def spoil_last(things, slip):
    """Applies the slip to the last of these that it changes; says whether there was one."""
    for thing in reversed(things):
        before = json.dumps(thing)
        kept = copy.deepcopy(thing)
        slip(thing)
        if json.dumps(thing) != before:
            return True
        thing.clear()
        thing.update(kept)
    return False


def main():
    command, path, form = sys.argv[1:]
    if (command, form) != ("tree", "--json"):
        return 2
    trees = [one.tree() for one in reading.read_file(path)]
    name = os.environ.get("FAKE_PLYLINE_SLIP")
    if name in NODE_SLIPS and not spoil_last([node for tree in trees for node in tree["nodes"]], NODE_SLIPS[name][1]):
        return 3
    if name in GAME_SLIPS and not spoil_last(trees, GAME_SLIPS[name][1]):
        return 3
    lines = [json.dumps(tree, ensure_ascii=False) for tree in trees]
    if name in OUTPUT_SLIPS:
        OUTPUT_SLIPS[name][1](lines)
    sys.stdout.reconfigure(encoding="utf-8")
    print("\n".join(lines))
    return 1 if name == "exit-code" else 0


if __name__ == "__main__":
    sys.exit(main())
