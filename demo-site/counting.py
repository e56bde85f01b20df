"""Counts what a move gives away, for check_lesson.py: a search that sees material and nothing else.

The values are the usual ones (pawn 1, knight and bishop 3, rook 5, queen 9: common practice, no
source); python-chess says what is legal.
"""

import chess
import chess.pgn

VALUES = {chess.PAWN: 1, chess.KNIGHT: 3, chess.BISHOP: 3, chess.ROOK: 5, chess.QUEEN: 9}
MATE = 1000
PIECE_LOST = 2  # a piece for a pawn; a bare pawn is the teacher's business


def material(board: chess.Board, side: chess.Color) -> int:
    return sum(worth * len(board.pieces(kind, side)) for kind, worth in VALUES.items())


def balance(board: chess.Board) -> int:
    """Material from the point of view of the side to move."""
    return material(board, board.turn) - material(board, not board.turn)


def settle(board: chess.Board, low: int, high: int, left: int) -> int:
    """What the side to move can be sure of when only captures, promotions, answers to check
    and (at first) checks are played. `left` bounds the length."""
    checked = board.is_check()
    if checked and not any(board.legal_moves):
        return -MATE
    if left == 0:
        return balance(board)
    if not checked:
        low = max(low, balance(board))  # nobody is forced to capture
        if low >= high:
            return low
    for move in ordered(board):
        if not checked and not board.is_capture(move) and not move.promotion:
            if left < 5 or not board.gives_check(move):
                continue
        board.push(move)
        value = -settle(board, -high, -low, left - 1)
        board.pop()
        low = max(low, value)
        if low >= high:
            break
    return low


def search(board: chess.Board, low: int, high: int, full: int) -> int:
    """Every move for `full` half-moves, then only what settles the position."""
    if board.is_checkmate():
        return -MATE
    if board.is_stalemate() or board.is_insufficient_material():
        return 0
    if full == 0:
        return settle(board, low, high, 6)
    for move in ordered(board):
        board.push(move)
        value = -search(board, -high, -low, full - 1)
        board.pop()
        low = max(low, value)
        if low >= high:
            break
    return low


def ordered(board: chess.Board) -> list[chess.Move]:
    """Big captures first: the search ends sooner, the result is the same."""

    def promise(move: chess.Move) -> int:
        taken = board.piece_type_at(move.to_square)
        return -(VALUES.get(taken, 0) * 10 - VALUES.get(board.piece_type_at(move.from_square), 0)
                 if taken else -100)

    return sorted(board.legal_moves, key=promise)


def outcome(board: chess.Board, move: chess.Move) -> int:
    """What the mover keeps after the move against the best answer and one more move each."""
    board.push(move)
    value = -search(board, -2 * MATE, 2 * MATE, 2)
    board.pop()
    return value


def loss(node: chess.pgn.GameNode) -> int:
    """How much material the node's move gives away: against what stood on the board, unless every
    other move loses as much, for then the mistake was an earlier one."""
    before = node.parent.board()
    kept = outcome(before, node.move)
    given = settle(before, -2 * MATE, 2 * MATE, 6) - kept
    if given < PIECE_LOST:
        return given
    others = (m for m in before.legal_moves if m != node.move)
    return min(given, max((outcome(before, m) for m in others), default=kept) - kept)
