"""Choices: recap and recall of 500 lessons by chance against python-chess (PyPI `chess` 1.11.2) and one sentence:

    A condition adds a choice and takes none away: the first move not marked `?`, `??` or `?!` is a choice too,
    unless some move there has `Choose:` without a condition.

    python choices.py FOLDER

FOLDER: where `tests/native/ask/chosen.rs` wrote `choices.jsonl`: a lesson a line, with what plyline's recap and recall
say for each side: the path to a position, and the moves that are chosen or right there.
"""
import io
import json
import os
import re
import sys

import chess
import chess.pgn

WEAK = {chess.pgn.NAG_MISTAKE, chess.pgn.NAG_BLUNDER, chess.pgn.NAG_DUBIOUS_MOVE}


def condition(node):
    """The condition of a written choice, None where there is none."""
    for paragraph in re.split(r"\n\s*\n", node.comment):
        if paragraph.strip().startswith("Choose:"):
            return paragraph.strip().removeprefix("Choose:").strip()
    return None


def choices(node):
    """The sentence, word by word."""
    takes_place = any(condition(child) == "" for child in node.variations)
    first = next((child for child in node.variations if not WEAK & child.nags), None)
    return [child for child in node.variations if condition(child) is not None or (child is first and not takes_place)]


def decided(node, chosen):
    """Whether the recap has a row: several moves were possible, or the author says something of the one."""
    return bool(chosen) and (len(node.variations) > 1 or any(child.comment.strip() for child in chosen))


def walk(game, side):
    """Every position that the side comes to by its choices and any move of the other, with its choices."""
    waiting = [game]
    while waiting:
        node = waiting.pop()
        if node.turn() == side:
            chosen = choices(node)
            yield node, chosen
            waiting += chosen
        else:
            waiting += node.variations


def path(node):
    way = []
    while node.parent:
        way.append(node.san())
        node = node.parent
    return list(reversed(way))


def main(folder):
    wrong, counts = [], [0, 0, 0]
    with open(os.path.join(folder, "choices.jsonl"), encoding="utf-8") as handle:
        for line in handle:
            told = json.loads(line)
            game = chess.pgn.read_game(io.StringIO(told["pgn"]))
            assert not game.errors, game.errors
            counts[0] += 1
            for side, name in ((chess.WHITE, "white"), (chess.BLACK, "black")):
                met = [(node, [child.san() for child in chosen], decided(node, chosen)) for node, chosen in walk(game, side)]
                rows = sorted([path(node), sans] for node, sans, row in met if row)
                counts[1] += len(rows)
                if rows != sorted(told[name]["recap"]):
                    wrong.append(f"recap for {name} of {told['pgn']!r}: {told[name]['recap']}, not {rows}")
                # A recall asks each position once, at one of its places.
                places = {" ".join(path(node)): (node.board().epd(), sans) for node, sans, _ in met if sans}
                asked = told[name]["recall"]
                right = all(places.get(" ".join(way), (None, None))[1] == sans for way, sans in asked)
                epds = [places[" ".join(way)][0] for way, _ in asked] if right else []
                counts[2] += len(epds)
                if len(epds) != len(set(epds)) or set(epds) != {epd for epd, _ in places.values()}:
                    wrong.append(f"recall for {name} of {told['pgn']!r}: {asked}, not each once of {places}")
    print("\n".join(wrong[:20]))
    print(f"{counts[0]} lessons, {counts[1]} rows of recaps and {counts[2]} positions of recalls, {len(wrong)} wrong")
    return 1 if wrong or counts[0] != 500 else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
