"""The search of material and mate against python-chess (PyPI `chess` 1.11.2), its endgame tables and its collections of mates.

    python search.py SOURCE GAMES PROGRAM [--long]

SOURCE: the unpacked source archive of `chess`, whose `data/` has Gaviota's tables of three men, Syzygy's of four, and two
files of positions with the distance to mate. GAMES: the unpacked source archive of the crate `pgn-reader` 0.29.0, whose
games give positions. PROGRAM: the example `search`. With --long as many positions as the rules of weighing name, else a
twentieth. Prints a line a check, what differs first, and figures last.
"""
import glob
import json
import os
import random
import re
import subprocess
import sys

import chess
import chess.gaviota
import chess.pgn
import chess.syzygy

SHOWN = 5
# Common practice, no source.
WORTH = {chess.PAWN: 100, chess.KNIGHT: 300, chess.BISHOP: 300, chess.ROOK: 500, chess.QUEEN: 900, chess.KING: 0}
MATE = 1_000_000
BUDGET = 2_000_000


class Program:
    """The example that answers, a line a question; all questions of one check are asked at once."""

    def __init__(self, path):
        self.path = path

    def ask(self, lines):
        done = subprocess.run([self.path], input="\n".join(lines) + "\n", capture_output=True, text=True, check=True)
        answers = done.stdout.splitlines()
        assert len(answers) == len(lines), done.stderr
        return answers


def balance(board):
    total = 0
    for role, worth in WORTH.items():
        total += worth * (len(board.pieces(role, board.turn)) - len(board.pieces(role, not board.turn)))
    return total


def value(board, depth, least=-MATE, most=MATE, ply=0):
    """Minimax with the two bounds that change nothing of its value."""
    moves = list(board.legal_moves)
    if not moves:
        return ply - MATE if board.is_check() else 0
    if depth == 0:
        return balance(board)
    moves.sort(key=lambda move: not board.is_capture(move))
    best = -MATE
    for move in moves:
        board.push(move)
        best = max(best, -value(board, depth - 1, -most, -max(least, best), ply + 1))
        board.pop()
        if best >= most:
            break
    return best


def exchange(board, square):
    """Every order of legal captures on a square, each side free to stop."""
    best = 0
    for move in list(board.generate_legal_captures()):
        if move.to_square != square:
            continue
        # A pawn taken in passing does not stand on the square.
        taken = chess.PAWN if board.is_en_passant(move) else board.piece_type_at(square)
        won = WORTH[taken] + (WORTH[move.promotion] - 100 if move.promotion else 0)
        board.push(move)
        best = max(best, won - exchange(board, square))
        board.pop()
    return best


def mate_within(board, moves):
    """In how many moves at most the side to move mates, every move and every answer tried; none if in more than these."""
    for n in range(1, moves + 1):
        if mates_in(board, n):
            return n
    return None


def mates_in(board, n):
    for move in list(board.legal_moves):
        if n == 1 and not board.gives_check(move):
            continue
        board.push(move)
        answers = list(board.legal_moves)
        if not answers:
            found = board.is_check()
        else:
            found = n > 1
            for answer in answers if found else []:
                board.push(answer)
                found = mates_in(board, n - 1)
                board.pop()
                if not found:
                    break
        board.pop()
        if found:
            return True
    return False


def real_games(folder):
    for path in sorted(glob.glob(f"{folder}/**/benches/*.pgn", recursive=True)):
        with open(path, encoding="utf-8", errors="replace") as file:
            while game := chess.pgn.read_game(file):
                yield game


def real_positions(folder, count, rng):
    fens = set()
    for game in real_games(folder):
        board = game.board()
        for move in game.mainline_moves():
            board.push(move)
            fens.add(board.fen())
    return rng.sample(sorted(fens), count)


def placed(men, rng):
    """A legal position of men at random."""
    while True:
        board = chess.Board(None)
        squares = rng.sample(range(64), len(men))
        for man, square in zip(men, squares):
            board.set_piece_at(square, chess.Piece.from_symbol(man))
        board.turn = rng.random() < 0.5
        pawns = board.pieces(chess.PAWN, True) | board.pieces(chess.PAWN, False)
        if board.is_valid() and not pawns & (chess.BB_RANK_1 | chess.BB_RANK_8):
            return board


def told(name, wrong, count, figures=""):
    for line in wrong[:SHOWN]:
        print(f"  {line}")
    print(f"{name}: {count - len(wrong)} of {count}{figures}")
    return not wrong


def material(program, fens, depths):
    wrong, count = [], 0
    for depth in depths:
        answers = program.ask([f"value {depth} {fen}" for fen in fens])
        for fen, answer in zip(fens, answers):
            count += 1
            wanted = value(chess.Board(fen), depth)
            if int(answer) != wanted:
                wrong.append(f"depth {depth}, {fen}: {answer}, python-chess {wanted}")
    return told("values without captures to their end, as a plain minimax finds them", wrong, count)


def exchanges(program, fens, rng):
    asked = []
    for fen in fens:
        board = chess.Board(fen)
        squares = sorted({move.to_square for move in board.generate_legal_captures()})
        if squares:
            asked.append((fen, rng.choice(squares)))
    answers = program.ask([f"exchange {chess.square_name(square)} {fen}" for fen, square in asked])
    wrong = []
    for (fen, square), answer in zip(asked, answers):
        wanted = exchange(chess.Board(fen), square)
        if int(answer) != wanted:
            wrong.append(f"{chess.square_name(square)}, {fen}: {answer}, every order {wanted}")
    return told("captures on one square, as every order of them comes to", wrong, len(asked))


def gaviota(program, source, count, rng):
    tables = chess.gaviota.open_tablebase(f"{source}/data/gaviota")
    sets = [name for name in ("KQk", "KRk", "KBk", "KNk", "KPk") if has_table(tables, name)]
    # Near mates are rarer where the lone king is in the middle.
    boards = [near_the_edge(rng.choice(["KQk", "KRk", *sets]), rng) for _ in range(count)]
    answers = [json.loads(it) for it in program.ask([f"gain {BUDGET // 4} {board.fen()}" for board in boards])]
    wrong, mates, complete = [], 0, 0
    for board, gain in zip(boards, answers):
        distance = tables.probe_dtm(board)
        if not list(board.legal_moves):
            continue
        if gain["mate"] is None:
            # As deep as it searched there is none.
            if distance != 0 and abs(distance) <= gain["depth"]:
                wrong.append(f"{board.fen()}: no mate to {gain['depth']} half-moves, the table {distance}")
            continue
        mates += 1
        plies = abs(2 * gain["mate"]) - (1 if gain["mate"] > 0 else 0)
        if distance == 0 or (distance > 0) != (gain["mate"] > 0) or plies < abs(distance):
            wrong.append(f"{board.fen()}: {gain}, the table {distance}")
        elif plies <= gain["depth"]:
            complete += 1
            if plies != abs(distance):
                wrong.append(f"{board.fen()}: {gain}, the table {distance}")
    figures = f"; {mates} mates, {complete} of them searched to their end, of the tables {', '.join(sets)}"
    return told("mates of three men, as Gaviota's tables have them", wrong, count, figures) and complete > 0


def near_the_edge(men, rng):
    while True:
        board = placed(men, rng)
        square = board.king(chess.BLACK)
        if rng.random() < 0.2 or square in chess.SquareSet(chess.BB_RANK_1 | chess.BB_RANK_8 | chess.BB_FILE_A | chess.BB_FILE_H):
            return board


def has_table(tables, name):
    board = placed(name, random.Random(1))
    return tables.get_dtm(board) is not None


def syzygy(program, source, count, rng):
    tables = chess.syzygy.open_tablebase(f"{source}/data/syzygy/regular")
    names = sorted({path.split("/")[-1][:-5] for path in glob.glob(f"{source}/data/syzygy/regular/*.rtbw")})
    sets = [name.replace("v", "") for name in names if len(name) == 5]
    men = [white + black.lower() for white, black in (name.split("v") for name in names if len(name) == 5)]
    wrong, asked, drawn = [], [], 0
    while len(asked) < count and men:
        board = placed(rng.choice(men), rng)
        if list(board.legal_moves):
            asked.append(board)
    answers = [json.loads(it) for it in program.ask([f"gain {BUDGET // 10} {board.fen()}" for board in asked])]
    for board, gain in zip(asked, answers):
        verdict = tables.probe_wdl(board)
        drawn += verdict == 0
        mate = gain["mate"] or 0
        # Cursed wins and blessed losses are mates that come after fifty moves.
        if (mate > 0 and verdict <= 0) or (mate < 0 and verdict >= 0):
            wrong.append(f"{board.fen()}: mate {mate}, the table {verdict}")
    figures = f"; {drawn} drawn, {len(sets)} tables"
    return told("no mate of four men where Syzygy's tables say draw or the other side", wrong, len(asked), figures)


def handpicked(program, source, budget):
    """The positions say `dm N` (the EPD opcode for a direct mate: PGN standard, 16.2.5); 0 says that there is none."""
    asked = []
    for path in sorted(glob.glob(f"{source}/data/endgame-dm-*.epd")):
        for line in open(path, encoding="utf-8"):
            if line.strip() and not line.startswith("#"):
                board, operations = chess.Board.from_epd(line)
                asked.append((board, int(operations["dm"])))
    answers = [json.loads(it) for it in program.ask([f"gain {budget} {board.fen()}" for board, _ in asked])]
    wrong, solved, short = [], 0, 0
    for (board, distance), gain in zip(asked, answers):
        mate = gain["mate"]
        is_short = 1 <= abs(distance) <= 3
        short += is_short
        if mate is not None and ((mate > 0) != (distance > 0) or abs(mate) < abs(distance)):
            wrong.append(f"{board.fen()}: {gain}, dm {distance}")
        elif is_short:
            solved += mate == distance
            if mate != distance:
                wrong.append(f"{board.fen()}: {gain}, dm {distance}")
    figures = f"; {solved} of {short} mates in 1 to 3 solved"
    return told("handpicked endings, none claimed shorter than it is", wrong, len(asked), figures)


def short_mates(program, fens, longest, budget):
    """Mates in at most so many moves, found at their length, and no other told."""
    wrong, mates = [], {}
    answers = [json.loads(it) for it in program.ask([f"gain {budget} {fen}" for fen in fens])]
    for fen, gain in zip(fens, answers):
        board = chess.Board(fen)
        if not list(board.legal_moves):
            continue
        wanted = mate_within(board, longest)
        mate = gain["mate"] if (gain["mate"] or 0) > 0 else None
        mates[wanted] = mates.get(wanted, 0) + 1
        is_same = mate == wanted or (wanted is None and mate > longest)
        if not is_same:
            wrong.append(f"{fen}: {gain}, every move and answer {wanted}")
    figures = ", ".join(f"{mates.get(n, 0)} in {n}" for n in range(1, longest + 1))
    return told(f"mates in 1 to {longest} in positions of real games", wrong, len(fens), f"; {figures}")


def near_mates(folder, count, rng):
    """Positions 1 to 5 half-moves before a mate that was played."""
    fens = set()
    for game in real_games(folder):
        board = game.end().board()
        if board.is_checkmate():
            for _ in range(5):
                board.pop()
                fens.add(board.fen())
    return rng.sample(sorted(fens), min(count, len(fens)))


def main():
    words = [word for word in sys.argv[1:] if word != "--long"]
    source, games, path = words
    share = 1 if "--long" in sys.argv else 20
    source = next(it for it in glob.glob(f"{source}/chess-*") if os.path.isdir(it))
    rng, program = random.Random(20261130), Program(path)
    fens = real_positions(games, 2000 // share, rng)
    near = near_mates(games, 150 // share, rng)
    passed = [
        material(program, fens[: 1000 // share], [1, 2] if share > 1 else [1, 2, 3]),
        exchanges(program, fens, rng),
        gaviota(program, source, 500 // share, rng),
        syzygy(program, source, 500 // share, rng),
        handpicked(program, source, BUDGET if share == 1 else BUDGET // 8),
        # Every move and answer to 3 moves takes python-chess some seconds a position.
        short_mates(program, near + fens[: 150 // share], *((3, BUDGET) if share == 1 else (2, BUDGET // 4))),
    ]
    sys.exit(not all(passed))


if __name__ == "__main__":
    main()
