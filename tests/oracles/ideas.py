"""Hints: python-chess (PyPI `chess` 1.11.2) says whether what a hint says of a move is true.

    python ideas.py FOLDER

FOLDER: where `tests/native/ask/chosen.rs` wrote `ideas.txt`: a FEN, a move, what the hint says, and the square that it
is about, with tabs between.
"""
import os
import sys
from collections import Counter

import chess

# What pieces are worth to each other: common practice, no source.
WORTH = {chess.PAWN: 1, chess.KNIGHT: 3, chess.BISHOP: 3, chess.ROOK: 5, chess.QUEEN: 9, chess.KING: 100}


def mate(board, move, after, square):
    return after.is_checkmate()


def check(board, move, after, square):
    return after.is_check()


def unguarded(board, move, after, square):
    taken = board.piece_at(square)
    return taken and taken.color != board.turn and move.to_square == square and not any(
        back.to_square == square for back in after.legal_moves if after.is_capture(back))


def attacks_two(board, move, after, square):
    landed = move.to_square
    own = WORTH[after.piece_type_at(landed)]
    count = 0
    for target in after.attacks(landed):
        piece = after.piece_at(target)
        if piece and piece.color != board.turn and piece.piece_type != chess.PAWN:
            count += WORTH[piece.piece_type] > own or not after.attackers(piece.color, target)
    return count > 1


def pinned(board, move, after, square):
    return (board.is_pinned(not board.turn, square) and after.is_pinned(not board.turn, square)
            and move.to_square in after.attackers(board.turn, square))


def guards(board, move, after, square):
    own = board.color_at(square) == board.turn and after.color_at(square) == board.turn
    return own and board.attackers(not board.turn, square) and not board.attackers(board.turn, square) and after.attackers(board.turn, square)


def main(folder):
    judges = {"mate": mate, "check": check, "unguarded": unguarded, "attacks two": attacks_two, "pinned": pinned, "guards": guards}
    counts, wrong = Counter(), []
    with open(os.path.join(folder, "ideas.txt"), encoding="utf-8") as handle:
        for line in handle:
            fen, uci, idea, square = line.rstrip("\n").split("\t")
            board, move = chess.Board(fen), chess.Move.from_uci(uci)
            assert board.is_legal(move), line
            after = board.copy(stack=False)
            after.push(move)
            counts[idea] += 1
            if not judges[idea](board, move, after, chess.parse_square(square) if square else None):
                wrong.append(f"{idea} {square}: {uci} in {fen}")
    print("\n".join(wrong[:20]))
    print(f"{sum(counts.values())} hints ({', '.join(f'{count} {idea}' for idea, count in sorted(counts.items()))}), {len(wrong)} false")
    return 1 if wrong or len(counts) != len(judges) else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
