"""Compares `plyline tree FILE --json` with python-chess's reading of the same files, game by game and node by node.

    python compare.py [--plyline PATH] [--games N] FILE…

PATH (or the environment's PLYLINE) is the program; one that ends in .py is run by this Python. Every difference is a
line with file, game, node, field and both values. Exit 0: no difference; 1: some; 2: could not compare.
The contract is design section 8; the outside source is python-chess (PyPI `chess` 1.11.2), see reading.py.
"""
import argparse
import json
import multiprocessing
import os
import subprocess
import sys

import reading

# One slip early in a game spoils all that follows; a few lines show as much as hundreds.
SHOWN_OF_A_GAME = 5
SHOWN_OF_A_RUN = 40
SECONDS = 120
FEN_FIELDS = ["pieces", "side", "castling", "en passant", "half-moves", "move number"]


class Words(str):
    """A side of a difference that is given in words and not as a value."""


class CannotCompare(Exception):
    """The program could not be started, or the oracle itself cannot read the text."""


def run_plyline(program, path):
    """Its lines, exit code and messages for one file."""
    command = [sys.executable, program] if program.endswith(".py") else [program]
    try:
        done = subprocess.run(command + ["tree", path, "--json"], stdin=subprocess.DEVNULL, capture_output=True,
                              timeout=SECONDS)
    except OSError as error:
        raise CannotCompare(f"cannot run {program}: {error}") from error
    except subprocess.TimeoutExpired as error:
        raise CannotCompare(f"{program} did not end within {SECONDS} s on {path}") from error
    return done.stdout, done.returncode, done.stderr.decode("utf-8", "replace")


def folded(text):
    """Without regard to white space; anything but text stays as it is."""
    return " ".join(text.split()) if isinstance(text, str) else text


def text_differences(field, want, have):
    """A comment is compared without its white space first, so that a message tells words from spaces."""
    if folded(want) != folded(have):
        yield field, want, have
    elif want != have:
        yield f"{field}, white space", want, have


def fen_differences(field, want, have):
    """Field by field, so that a message names the one that is wrong."""
    parts = have.split(" ") if isinstance(have, str) else []
    if len(parts) != 6:
        yield field, want, have
        return
    for name, one, other in zip(FEN_FIELDS, want.split(" "), parts):
        if one != other:
            yield f"{field}, {name}", one, other


def own_differences(want, have):
    """Marks, choice and ask are plyline's own: python-chess knows only that text without their signs has none."""
    text = f"{want['comment'] or ''} {want['before'] or ''}"
    rules = [
        ("marks", "@", lambda value: isinstance(value, list)),
        ("choice", "Choose:", lambda value: value is None or isinstance(value, str)),
        ("ask", "Ask:", lambda value: value is None or isinstance(value, dict)
         and list(value) == ["prompt", "hint", "because"]),
    ]
    for field, sign, fits in rules:
        if sign not in text and have[field] != want[field]:
            yield field, want[field], have[field]
        elif not fits(have[field]):
            yield field, Words("a value of the kind that section 8 names"), have[field]


def same(want, have):
    """Equal as JSON values: Python would also call True equal to 1 and 1.0 equal to 1."""
    return json.dumps(want, ensure_ascii=False) == json.dumps(have, ensure_ascii=False)


def key_differences(fields, have):
    if not isinstance(have, dict):
        yield "object", Words(f"an object with {', '.join(fields)}"), have
    elif sorted(have) != sorted(fields):
        missing = [field for field in fields if field not in have]
        unknown = [field for field in have if field not in fields]
        yield ("fields", Words("those of section 8"),
               Words(f"not these: {', '.join(missing) or '-'}; and others: {', '.join(unknown) or '-'}"))


def node_differences(want, have):
    """Pairs of (field, value of python-chess, value of plyline) for one node."""
    wrong_keys = list(key_differences(reading.NODE_FIELDS, have))
    if wrong_keys:
        yield from wrong_keys
        return
    for field in ["id", "parent", "children", "ply", "san", "uci"]:
        if not same(want[field], have[field]):
            yield field, want[field], have[field]
    yield from fen_differences("fen", want["fen"], have["fen"])
    nags = have["nags"] if isinstance(have["nags"], list) else [have["nags"]]
    if sorted(map(repr, want["nags"])) != sorted(map(repr, nags)):
        yield "nags", want["nags"], have["nags"]
    elif not same(want["nags"], have["nags"]):
        yield "nags, order", want["nags"], have["nags"]
    yield from text_differences("before", want["before"], have["before"])
    yield from text_differences("comment", want["comment"], have["comment"])
    yield from own_differences(want, have)
    if not same(want["line"], have["line"]):
        yield "line", want["line"], have["line"]


def game_differences(want, have):
    """Triples (node or None, field, value of python-chess, value of plyline …) for one game."""
    wrong_keys = list(key_differences(reading.GAME_FIELDS, have))
    if wrong_keys:
        for field, one, other in wrong_keys:
            yield None, field, one, other
        return
    if want["tags"] != have["tags"]:
        yield None, "tags", want["tags"], have["tags"]
    elif list(want["tags"]) != list(have["tags"]):
        yield None, "tags, order", list(want["tags"]), list(have["tags"])
    for field, one, other in fen_differences("start", want["start"], have["start"]):
        yield None, field, one, other
    if not same(want["result"], have["result"]):
        yield None, "result", want["result"], have["result"]
    if not isinstance(have["nodes"], list):
        yield None, "nodes", Words("a list"), have["nodes"]
        return
    if len(want["nodes"]) != len(have["nodes"]):
        yield None, "nodes", Words(f"{len(want['nodes'])} nodes"), Words(f"{len(have['nodes'])} nodes")
    for at, (one, other) in enumerate(zip(want["nodes"], have["nodes"])):
        for field, mine, theirs in node_differences(one, other):
            yield at, field, mine, theirs


def place(want, at):
    """A node in words: its number and the moves that lead to it, so that it can be found in the text."""
    moves, node = [], want["nodes"][at]
    while node["parent"] is not None:
        moves.append(node["san"])
        node = want["nodes"][node["parent"]]
    return f"node {at} ({' '.join(reversed(moves)) or 'start'})"


def file_differences(program, path):
    """Messages for one file, and how many games and nodes python-chess read in it."""
    readings = reading.read_file(path)
    for number, one in enumerate(readings, start=1):
        if one.errors:
            raise CannotCompare(f"{path}: game {number}: python-chess itself cannot read it: {one.errors[0]}")
        if not one.game.board().is_valid():
            raise CannotCompare(f"{path}: game {number}: python-chess calls the start an impossible position")
    wanted = [one.tree() for one in readings]
    output, code, messages = run_plyline(program, path)
    found = []

    def differ(where, field, want, have):
        found.append(f"{path}: {where}: {field}: python-chess has {show(want)}, plyline has {show(have)}")

    if code != 0:
        said = "; ".join(messages.strip().splitlines()[:6]) or "nothing"
        differ("all", "exit code", 0, Words(f"{code}, and said: {said}"))
    had = []
    # Not splitlines: a JSON text may hold other characters that end a line, such as U+2028.
    for number, line in enumerate(output.removesuffix(b"\n").split(b"\n") if output else [], start=1):
        try:
            had.append(json.loads(line.decode("utf-8")))
        except ValueError as error:
            had.append(None)
            bad = Words(f"{line[:60]!r} ({error})")
            differ(f"line {number} of the output", "JSON", Words("one object a line"), bad)
    if len(had) != len(wanted):
        differ("all", "games", Words(f"{len(wanted)} games"), Words(f"{len(had)} lines"))
    for number, (want, have) in enumerate(zip(wanted, had), start=1):
        all_of_game = list(game_differences(want, have))
        for at, field, one, other in all_of_game[:SHOWN_OF_A_GAME]:
            differ(f"game {number}" if at is None else f"game {number}, {place(want, at)}", field, one, other)
        if len(all_of_game) > SHOWN_OF_A_GAME:
            found.append(f"{path}: game {number}: and {len(all_of_game) - SHOWN_OF_A_GAME} more")
    return found, len(wanted), sum(len(want["nodes"]) for want in wanted)


def show(value):
    return value if isinstance(value, Words) else json.dumps(value, ensure_ascii=False)


def main():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("--plyline", default=os.environ.get("PLYLINE"))
    arguments.add_argument("--games", type=int, help="how many games the files must hold together")
    arguments.add_argument("files", nargs="+")
    given = arguments.parse_args()
    if not given.plyline:
        arguments.error("name the program by --plyline or PLYLINE")
    found, games, nodes = [], 0, 0
    try:
        with multiprocessing.Pool() as pool:
            parts = pool.starmap(file_differences, [(given.plyline, path) for path in given.files], chunksize=1)
        for more, its_games, its_nodes in parts:
            found += more
            games += its_games
            nodes += its_nodes
        # An oracle that read nothing would agree with everything.
        if games == 0 or given.games not in (None, games):
            raise CannotCompare(f"python-chess reads {games} games, {given.games or 'at least one'} expected")
    except (CannotCompare, OSError) as error:
        print(f"cannot compare: {error}")
        return 2
    print("\n".join(found[:SHOWN_OF_A_RUN]) or "no difference")
    print(f"{games} games, {nodes} nodes, lines of difference: {len(found)}")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
