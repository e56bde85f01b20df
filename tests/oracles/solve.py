"""Solves problems full-width with python-chess (PyPI `chess` 1.11.2) and keeps those whose published key holds.

    python solve.py PROBLEMS [--keep FILE] [--wins]

PROBLEMS has a line a problem: FEN, what, key, source, where it was found, parted by tabs. What is `mate N`, `mate ?` (the
source gives only the key: N is what is found, 2 or 3), or `wins`; a key is SAN, several parted by `|`. Independent of
plyline: every move and every answer are tried, nothing is cut by judgement.

A mate holds if no mate is shorter, if every published key mates in exactly N, and prints the other moves that do too
(cooks). `wins` holds if after a search of all moves to DEPTH half-moves, and of captures, promotions and answers to check
after them, the key gains at least two pawns and no move outside the published ones gains as much.
"""
import sys
import time

import chess

DEPTH = 4
# Common practice, no source.
WORTH = {chess.PAWN: 100, chess.KNIGHT: 300, chess.BISHOP: 300, chess.ROOK: 500, chess.QUEEN: 900, chess.KING: 0}
MATE = 1_000_000
LONGEST = 3


def checks_first(board):
    checks, others = [], []
    for move in board.legal_moves:
        (checks if board.gives_check(move) else others).append(move)
    return checks, others


def mates(board, n, known):
    """Whether the side to move mates in n moves at most, every move and every answer tried."""
    key = (board._transposition_key(), n)
    if key in known:
        return known[key]
    checks, others = checks_first(board)
    found = any(mates_by(board, move, n, known) for move in (checks if n == 1 else checks + others))
    known[key] = found
    return found


# Answers that refuted a move before are tried first: an order, no cut.
refuted = {}


def mates_by(board, move, n, known):
    """Whether this move mates in n moves at most."""
    board.push(move)
    answers = list(board.legal_moves)
    if not answers:
        found = board.is_check()
    elif n == 1:
        found = False
    else:
        last = refuted.get(n)
        answers.sort(key=lambda answer: (answer != last, not board.is_capture(answer), not board.gives_check(answer)))
        found = True
        for answer in answers:
            board.push(answer)
            found = mates(board, n - 1, known)
            board.pop()
            if not found:
                refuted[n] = answer
                break
    board.pop()
    return found


def solve_mate(board, wanted):
    """The length of the shortest mate up to `wanted` moves, and all first moves that give it."""
    known = {}
    for n in range(1, wanted + 1):
        keys = [move for move in board.legal_moves if mates_by(board, move, n, known)]
        if keys:
            return n, keys
    return None, []


def balance(board):
    total = 0
    for role, worth in WORTH.items():
        total += worth * (len(board.pieces(role, board.turn)) - len(board.pieces(role, not board.turn)))
    return total


def quiet(board, least, most, ply, left):
    """The value when captures and promotions are played to the end; in check every answer is tried, so long as `left`."""
    in_check = board.is_check()
    moves = list(board.legal_moves)
    if not moves:
        return ply - MATE if in_check else 0
    best = -MATE
    if not (in_check and left > 0):
        best = balance(board)
        if best >= most:
            return best
        moves = [move for move in moves if board.is_capture(move) or move.promotion == chess.QUEEN]
    moves.sort(key=lambda move: worth_of(board, move), reverse=True)
    for move in moves:
        board.push(move)
        best = max(best, -quiet(board, -most, -max(least, best), ply + 1, left - in_check))
        board.pop()
        if best >= most:
            break
    return best


def worth_of(board, move):
    taken = board.piece_type_at(move.to_square)
    own = board.piece_type_at(move.from_square)
    return (16 * WORTH[taken] - WORTH[own] if taken else 0) + (900 if move.promotion == chess.QUEEN else 0)


def value(board, depth, least, most, ply, best_before):
    if depth == 0:
        return quiet(board, least, most, ply, 2)
    moves = list(board.legal_moves)
    if not moves:
        return ply - MATE if board.is_check() else 0
    killers = best_before.get(ply, ())
    moves.sort(key=lambda move: (worth_of(board, move) + 3000 * (move in killers)), reverse=True)
    best = -MATE
    for move in moves:
        board.push(move)
        best = max(best, -value(board, depth - 1, -most, -max(least, best), ply + 1, best_before))
        board.pop()
        if best >= most:
            best_before[ply] = (move, *killers[:1])
            break
    return best


def solve_win(board, keys):
    """What the keys gain in hundredths of a pawn, the least of them, and the other moves that gain as much."""
    now, killers, gains = balance(board), {}, []
    for move in keys:
        board.push(move)
        gains.append(-value(board, DEPTH - 1, -MATE, MATE, 1, killers) - now)
        board.pop()
    gain, others = min(gains), []
    if gain < 200:
        return gain, []
    for move in board.legal_moves:
        if move not in keys:
            board.push(move)
            # Only whether it reaches the key's gain.
            if -value(board, DEPTH - 1, -(gain + now), -(gain + now - 1), 1, killers) >= gain + now:
                others.append(move)
            board.pop()
    return gain, others


def judge(fen, what, keys, wins):
    """What holds (`mate N`, `wins` or nothing), and the words for it."""
    board = chess.Board(fen)
    if board.status() != chess.STATUS_VALID:
        return None, f"not a legal position: {board.status()!r}"
    published = [board.parse_san(san) for san in keys.split("|")]
    if what.startswith("mate"):
        said = None if what.endswith("?") else int(what.split()[1])
        n, found = solve_mate(board, said or LONGEST)
        names = " ".join(board.san(move) for move in found)
        if n is not None:
            if n == 1 or (said and n != said) or not all(move in found for move in published):
                return None, f"mate in {n} by {names}"
            others = [board.san(move) for move in found if move not in published]
            return f"mate {n}", "the only key" if not others else f"cooks: {' '.join(others)}"
        if not (wins and what.endswith("?")):
            return None, f"no mate in {said or LONGEST}"
    gain, others = solve_win(board, published)
    if gain < 200:
        return None, f"gains {gain}"
    if others:
        return None, f"gains {gain}, as do {' '.join(board.san(move) for move in others)}"
    return "wins", f"gains {gain}, the only move to gain as much"


def main():
    path = sys.argv[1]
    keep = open(sys.argv[sys.argv.index("--keep") + 1], "a", encoding="utf-8") if "--keep" in sys.argv else None
    held = count = 0
    for line in open(path, encoding="utf-8"):
        if not line.strip() or line.startswith("#"):
            continue
        fen, what, keys, source, where = line.rstrip("\n").split("\t")
        count += 1
        start = time.time()
        try:
            verdict, words = judge(fen, what, keys, "--wins" in sys.argv)
        except ValueError as error:
            verdict, words = None, f"unreadable: {error}"
        held += verdict is not None
        print(f"{'holds' if verdict else 'FAILS'}\t{verdict or what}\t{keys}\t{words}\t{source}\t{time.time() - start:.1f} s", flush=True)
        if verdict and keep:
            keep.write("\t".join([fen, verdict, keys, source, where]) + "\n")
            keep.flush()
    print(f"solved: {held} of {count} hold", flush=True)
    sys.exit(held != count)


if __name__ == "__main__":
    main()
