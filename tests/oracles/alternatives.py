"""Alternative texts: the description of a position, and its picture, read back to a placement and to marks and compared
with the FEN and the marks that they were made of, every piece and every mark.

    python alternatives.py [--positions N]

python-chess (PyPI `chess` 1.11.2) makes the positions, by moves by chance from the start and by pieces put on the board by
chance, and reads the placements. The description is the title of the SVG that `plyline tree FILE --emit picture` prints;
the picture has a `use` element for each piece (SVG 1.1, section 5.6).
"""
import argparse
import os
import random
import re
import tempfile
import xml.etree.ElementTree as ElementTree

import chess

import program

SVG = "{http://www.w3.org/2000/svg}"
SQUARE = 64
KINDS = {"pawn": "p", "knight": "n", "bishop": "b", "rook": "r", "queen": "q", "king": "k"}
# What a mark says more than its squares: one square, several.
SIGNS = {"": ("", ""), "!": (", a strong square", ", a plan to play"), "?": (", a weak square", ", a plan to stop")}
WAY = re.compile(r"the (?:arrow|way) from (\S+)(?: through (.+))? to (\S+)$")


def played(chance):
    board = chess.Board()
    for _ in range(chance.randrange(1, 160)):
        moves = list(board.legal_moves)
        if not moves:
            break
        board.push(chance.choice(moves))
    return board


def placed(chance):
    """Any pieces, as long as the position is valid: more queens than a game has, or two kings alone."""
    while True:
        board = chess.Board(None)
        squares = chance.sample(range(64), chance.randrange(2, 33))
        for at, square in enumerate(squares):
            kind = chess.KING if at < 2 else chance.randrange(1, 6)
            color = at == 0 if at < 2 else chance.random() < 0.5
            board.set_piece_at(square, chess.Piece(kind, color))
        board.turn = chance.random() < 0.5
        if board.is_valid():
            return board


def marks(chance):
    """Some marks as an author writes them, in any order, none twice."""
    written = []
    for _ in range(chance.choice([0, 0, 1, 3])):
        squares = chance.sample(chess.SQUARE_NAMES, chance.choice([1, 2, 3, 4]))
        written.append((chance.choice(list(SIGNS)), squares))
    return [mark for at, mark in enumerate(written) if mark not in written[:at]]


def placement(text):
    """The pieces that a description names."""
    board = chess.Board(None)
    for side in text.split("; "):
        color, pieces = side.split(": ")
        for piece in pieces.split(", "):
            kind, square = piece.split(" ")
            symbol = KINDS[kind].upper() if {"White": True, "Black": False}[color] else KINDS[kind]
            assert board.piece_at(chess.parse_square(square)) is None, f"two pieces on {square}"
            board.set_piece_at(chess.parse_square(square), chess.Piece.from_symbol(symbol))
    return board.board_fen()


def told_marks(text):
    """The marks that a description names."""
    told = []
    for piece in text.split("; ") if text else []:
        several = piece.startswith("the ")
        for sign, words in sorted(SIGNS.items(), key=lambda row: -len(row[1][several])):
            if piece.endswith(words[several]):
                piece = piece.removesuffix(words[several])
                break
        found = WAY.match(piece)
        squares = [found[1], *(found[2].split(", ") if found[2] else []), found[3]] if found else [piece]
        told.append((sign, squares))
    return told


def drawn(picture):
    """The pieces that a picture shows, White below."""
    board = chess.Board(None)
    for use in picture.iter(f"{SVG}use"):
        side, kind = use.get("href").removeprefix("#").split("-")
        file, rank = int(use.get("x")) // SQUARE, 7 - int(use.get("y")) // SQUARE
        symbol = KINDS[kind].upper() if side == "w" else KINDS[kind]
        board.set_piece_at(chess.square(file, rank), chess.Piece.from_symbol(symbol))
    return board.board_fen()


def check():
    parser = argparse.ArgumentParser()
    parser.add_argument("--positions", type=int, default=600)
    wanted = parser.parse_args().positions
    chance = random.Random(14)
    boards = [(placed if at % 3 == 0 else played)(chance) for at in range(wanted)]
    marked = [marks(chance) for _ in boards]
    games = []
    for board, list_ in zip(boards, marked):
        words = " ".join(f"@{sign}{'-'.join(squares)}" for sign, squares in list_)
        comment = f"{{See {words} .}} " if words else ""
        games.append(f'[SetUp "1"]\n[FEN "{board.fen()}"]\n\n{comment}*\n')
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "positions.pgn")
        with open(path, "w", encoding="utf-8") as handle:
            handle.write("\n".join(games))
        told = program.lines(program.run("tree", path, "--emit", "picture")[0])
    wrong = [] if len(told) == wanted else [f"{wanted} positions, {len(told)} pictures"]
    for board, list_, line in zip(boards, marked, told):
        picture = ElementTree.fromstring(line)
        title = picture.find(f"{SVG}title").text
        pieces, _, rest = title.partition(". Marked: ")
        try:
            read = placement(pieces), told_marks(rest), drawn(picture)
        except (AssertionError, KeyError, TypeError, ValueError) as error:
            wrong.append(f"{board.fen()}: cannot read {title!r}: {error}")
            continue
        if read != (board.board_fen(), list_, board.board_fen()):
            wrong.append(f"{board.fen()} {list_}: {title!r} says {read}")
    pieces = sum(len(board.piece_map()) for board in boards)
    return wrong, f"{wanted} positions, {pieces} pieces, {sum(map(len, marked))} marks"


if __name__ == "__main__":
    program.main(check)
