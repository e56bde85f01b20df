"""A replacement for the program, to test the score itself: `fake_listen.py listen CAPTIONS ...`.

It prints the intended tree of a talk, whose marked text is FAKE_TALK in the environment (a file, or a folder in which
the captions' name says which). With FAKE_SPOIL it spoils one thing first, see SPOILS; `NAME-doubted` also tells a doubt
at the main line's last move. With `--lesson` nothing is spoiled: what an ideal listener makes of a mended draft.
"""
import io
import json
import os
import sys

import chess.pgn

import drafts
import captions
import talks


def every(node):
    yield node
    for child in node.variations:
        yield from every(child)


def phantom(game):
    """A legal move that nobody meant, at the end of the main line, heard with the move before it."""
    end = game.end()
    end.add_variation(next(iter(end.board().legal_moves)), comment=end.comment)


def drop(game):
    """The last move of the main line is not there."""
    end = game.end()
    end.parent.variations.remove(end)


def late(game):
    """Every time is a minute late."""
    for node in every(game):
        times = drafts.hears(node.comment)
        node.comment = f"Hear: {', '.join(captions.stamp(begin + 60, 1) for begin, _ in times)}" if times else ""


def untimed(game):
    """No time at all."""
    for node in every(game):
        node.comment = ""


def displaced(game):
    """What follows a move of the main line hangs after another move there: where most of it stays legal."""
    best = (1,)
    for at in list(game.mainline())[2:-1]:
        first = at.variations[0]
        for move in at.board().legal_moves:
            if all(child.move != move for child in at.variations):
                board, stays = at.board(), 0
                board.push(move)
                node = first
                while node.variations and node.variations[0].move in board.legal_moves:
                    node, stays = node.variations[0], stays + 1
                    board.push(node.move)
                best = max(best, (stays, at.ply(), move.uci(), at, first, move), key=lambda one: one[:3])
    if len(best) == 1:
        raise SystemExit(3)
    *_, at, first, move = best
    at.variations.remove(first)
    graft(first, at.add_variation(move, comment=first.comment))


def graft(node, to):
    for child in node.variations:
        if child.move in to.board().legal_moves:
            graft(child, to.add_variation(child.move, comment=child.comment))


def empty(game):
    """Nothing was understood."""
    game.variations.clear()


SPOILS = {spoil.__name__: spoil for spoil in (phantom, drop, late, untimed, displaced, empty)}


def from_fen(game, talk):
    """The draft begins with the FEN of the place where the talk begins, as `--from` with a FEN would have it."""
    node = game
    while node.board().fen() != talk.begin.board.fen():
        node = node.variations[0]
    begun = chess.pgn.Game()
    begun.setup(node.board())
    begun.variations = node.variations
    for child in begun.variations:
        child.parent = begun
    return begun


def main():
    heard, place = sys.argv[2], os.environ["FAKE_TALK"]
    if os.path.isdir(place):
        place = os.path.join(place, os.path.basename(heard).split(".")[0] + ".marked.txt")
    talk = talks.read(place)
    name = os.environ.get("FAKE_SPOIL", "")
    spoil, doubted = name.removesuffix("-doubted"), name.endswith("-doubted")
    game = chess.pgn.read_game(io.StringIO(talks.pgn(talk.root, "fake")))
    time = drafts.hears(game.end().comment)
    if spoil == "fen":
        game = from_fen(game, talk)
    elif spoil and "--lesson" not in sys.argv:
        SPOILS[spoil](game)
    print(game)
    if doubted:
        print(json.dumps({"file": heard, "code": "P300", "severity": "hint", "message": "a doubt", "line": 1,
                          "column": 1, "endLine": 1, "endColumn": 2, "help": None, "fix": None, "related": [],
                          "time": time[0][0], "said": "", "candidates": [], "taken": None, "behind": 1}),
              file=sys.stderr)
    return 0


if __name__ == "__main__":
    sys.exit(main())
