"""Answers about a position: python-chess (PyPI `chess` 1.11.2) says what is pinned, what attacks and guards a square,
what pieces there are, and where they can legally go.

    python answers.py FOLDER

FOLDER: where `tests/native/view/answered.rs` wrote `answers.txt`: a FEN, a question, and the answer that a reader hears,
with tabs between.
"""
import os
import re
import sys
from collections import Counter

import chess

NAMES = ["pawn", "knight", "bishop", "rook", "queen", "king"]
# Counted in pawns: common practice, no source.
WORTH = [1, 3, 3, 5, 9]
SIDES = {"white": chess.WHITE, "black": chess.BLACK}
SQUARES = re.compile(r"[a-h][1-8]")


def name(board, square):
    piece = board.piece_at(square)
    return f"{'white' if piece.color else 'black'} {NAMES[piece.piece_type - 1]} {chess.square_name(square)}"


def row(words):
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1]


def capital(text):
    return text[0].upper() + text[1:]


def bearing(board, square, colors, none, some):
    """A sentence about the pieces that bear on a square."""
    pieces = [name(board, at) + (f" (pinned to the {pins(board, at)[0][0]})" if pins(board, at) else "")
              for color in colors for at in board.attackers(color, square)]
    at = chess.square_name(square)
    return f"{at} is {some} by {row(pieces)}." if pieces else f"Nothing {none} {at}."


def guards(board, square):
    color = board.color_at(square)
    return bearing(board, square, [chess.WHITE, chess.BLACK] if color is None else [color], "guards", "guarded")


def attacks(board, square):
    color = board.color_at(square)
    colors = [chess.WHITE, chess.BLACK] if color is None else [not color]
    said = bearing(board, square, colors, "attacks", "attacked")
    return said if color is None else f"{said} {guards(board, square)}"


def pins(board, square):
    """What a piece is pinned to, by what: its king, by the rules, and its queens, if a bishop or a rook attacks them once
    the piece has gone from the line."""
    color = board.color_at(square)
    if board.piece_type_at(square) == chess.KING:
        return []
    without = board.copy(stack=False)
    without.remove_piece_at(square)

    def behind(at):
        new = without.attackers(not color, at) - board.attackers(not color, at)
        return [by for by in new if square in chess.SquareSet.between(by, at)]

    king = behind(board.king(color))
    assert len(king) == board.is_pinned(color, square), board.fen()
    found = [("king", by) for by in king]
    for queen in board.pieces(chess.QUEEN, color):
        if queen != square:
            found += [("queen", by) for by in behind(queen) if board.piece_type_at(by) != chess.QUEEN]
    return found


def pin(board, square):
    """The sentences about a piece that may be pinned: by what stands behind it on the line of the pin."""
    piece = capital(name(board, square))
    said = [f"{piece} is pinned to the {to} by {name(board, by)}." for to, by in pins(board, square)]
    return " ".join(said) or f"{piece} is not pinned."


def meant(board, side, kind):
    """The squares of a kind of a side, or of both."""
    return [at for at in chess.SQUARES if (piece := board.piece_at(at))
            and NAMES[piece.piece_type - 1] == kind and (not side or piece.color == SIDES[side.strip()])]


def material(board):
    parts, sums = [], []
    for side, color in (("White", chess.WHITE), ("Black", chess.BLACK)):
        counts = [len(board.pieces(kind, color)) for kind in range(chess.PAWN, chess.KING)]
        has = [NAMES[kind] if count == 1 else f"{count} {NAMES[kind]}s" for kind, count in enumerate(counts) if count]
        parts.append(f"{side}: {', '.join(reversed(has)) or 'king'}")
        sums.append(sum(count * worth for count, worth in zip(counts, WORTH)))
    white, black = sums
    ahead = "level." if white == black else f"{'White' if white > black else 'Black'} is {abs(white - black)} ahead."
    return f"{'; '.join(parts)}. Counted 1, 3, 3, 5 and 9, White has {white} and Black {black}: {ahead}"


def reach(board, squares, answer, all_told):
    """Whether the answer names these pieces and of each all legal targets and no others."""
    told = {}
    for at, what, said in re.findall(r"([a-h][1-8]), ((?:white|black) \w+)\. ([^.]+\.)", answer):
        assert f"{what} {at}" == name(board, chess.parse_square(at)), answer
        told[chess.parse_square(at)] = said
    for square in squares:
        legal = {chess.square_name(move.to_square) for move in board.legal_moves if move.from_square == square}
        said = told.pop(square, None)
        if board.color_at(square) != board.turn:
            right = said == "The other side is to move."
        elif not legal:
            right = said == (None if all_told else "It cannot move.")
        else:
            right = said is not None and said.startswith("It can go to ") and set(SQUARES.findall(said)) == legal \
                and len(SQUARES.findall(said)) == len(legal)
        if not right:
            return False
    return not told


def judge(board, text, answer):
    """What is asked, and whether the answer is right."""
    if text == "what is pinned":
        said = [pin(board, at) for at in chess.SQUARES if board.piece_at(at) and pins(board, at)]
        return "pins", answer == (" ".join(said) or "Nothing is pinned.")
    if text == "material":
        return "material", answer == material(board)
    if text == "legal moves":
        own = [at for at in chess.SQUARES if board.color_at(at) == board.turn]
        right = answer == "No move is legal." if not any(board.legal_moves) else reach(board, own, answer, True)
        return "legal moves", right
    if found := re.fullmatch(r"what (attacks|guards) (..)", text):
        judges = {"attacks": attacks, "guards": guards}
        return found[1], answer == judges[found[1]](board, chess.parse_square(found[2]))
    if found := re.fullmatch(r"moves of the \w+ on (..)", text):
        return "moves of a piece", reach(board, [chess.parse_square(found[1])], answer, False)
    if found := re.fullmatch(r"where can the (\w+) go", text):
        own = [at for at in meant(board, "", found[1]) if board.color_at(at) == board.turn]
        squares = own or meant(board, "", found[1])
        missing = answer == f"Not on the board: {found[1]}."
        return "moves of a kind", reach(board, squares, answer, False) if squares else missing
    found = re.fullmatch(r"(is|where is) the (white |black |)(\w+)( pinned|)", text)
    squares, side, kind = meant(board, found[2], found[3]), found[2], found[3]
    if not squares:
        return "absent pieces", answer == f"Not on the board: {side}{kind}."
    if found[4]:
        return "pinned pieces", answer == " ".join(pin(board, at) for at in squares)
    parts = []
    for title, color in (("White", chess.WHITE), ("Black", chess.BLACK)):
        of = [f"{kind} {chess.square_name(at)}" for at in squares if board.color_at(at) == color]
        parts += [f"{title}: {', '.join(of)}"] if of else []
    return "places", answer == "; ".join(parts) + "."


def main(folder):
    counts, wrong = Counter(), []
    with open(os.path.join(folder, "answers.txt"), encoding="utf-8") as handle:
        for line in handle:
            fen, text, answer = line.rstrip("\n").split("\t")
            kind, right = judge(chess.Board(fen), text, answer)
            counts[kind] += 1
            if not right:
                wrong.append(f"{text}: {answer} in {fen}")
    print("\n".join(wrong[:20]))
    print(f"{sum(counts.values())} answers ({', '.join(f'{count} {kind}' for kind, count in sorted(counts.items()))}), {len(wrong)} false")
    return 1 if wrong or len(counts) != 10 else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
