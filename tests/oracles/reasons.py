"""Moves that cannot be played, in positions of real games: is the reason that plyline gives the true one?

    python reasons.py GAMES [--seed N]

At least 2,000 are pseudo-legal (the piece moves so, but the king would be taken), 2,000 impossible, and 2,000 name a
piece by square, file or rank that cannot go where another of its kind can. The judge is python-chess, see why.py;
compared are the code, every square that the message names, and the piece it names there, and no message may say of all
pieces of a kind that they cannot reach a square where one of them can legally go.
Each is a game of its own: a FEN and one bad move. The games are those of the crate `pgn-reader`, see games.py; the
program is the environment's PLYLINE.
"""
import argparse
import collections
import os
import random
import re
import tempfile

import chess

import games
import program
import why

SEED = 1851
WANTED = {"pseudo-legal": 3000, "impossible": 9000, "the wrong piece": 3000}
FEWEST = 2000
IN_A_FILE = 400
# Every reason must be met; P014 to P030 and the like are no reasons of a move.
CODES = ["P012", "P013", "P031", "P032", "P033", "P034", "P035", "P036", "P037", "P038", "P039", "P044", "P056"]
# Codes whose message begins with the word itself or holds it.
QUOTES_WORD = {"P013", "P038", "P044"}
# Names of files and ranks, as move words have them.
FILES, RANKS = "abcdefgh", "12345678"


def written(role, file, rank, to, capture=False, promotion=None):
    """A move word, and what it says."""
    letter = "" if role in (None, chess.PAWN) else chess.piece_symbol(role).upper()
    word = (letter + ("" if file is None else FILES[file]) + ("" if rank is None else RANKS[rank])
            + ("x" if capture else "") + chess.square_name(to)
            + (f"={chess.piece_symbol(promotion).upper()}" if promotion else ""))
    return why.Asked(word, role, file, rank, to, capture, promotion)


def pseudo_legal(rng, board):
    """Words for pseudo-legal moves that are not legal."""
    moves = [move for move in board.pseudo_legal_moves if not board.is_legal(move) and not board.is_castling(move)]
    for move in rng.sample(moves, min(2, len(moves))):
        role = board.piece_type_at(move.from_square)
        file, rank = chess.square_file(move.from_square), chess.square_rank(move.from_square)
        takes = board.is_capture(move)
        if role == chess.PAWN:
            yield written(role, file if takes else None, None, move.to_square, takes, move.promotion)
        else:
            file, rank = rng.choice([(None, None), (file, None), (file, rank)])
            yield written(role, file, rank, move.to_square, takes and rng.random() < 0.8)


def impossible(rng, board):
    """Words of every form, most of which mean nothing here."""
    to = rng.randrange(64)
    file, rank = rng.randrange(8), rng.randrange(8)
    role = rng.choice([chess.KNIGHT, chess.BISHOP, chess.ROOK, chess.QUEEN, chess.KING])
    forms = [written(role, None, None, to, rng.random() < 0.2), written(role, file, None, to),
             written(role, None, rank, to)]
    # Pieces that are there: anywhere, and on their own lines, where something may be in the way.
    for square in rng.sample(list(board.pieces(role, board.turn)), min(1, len(board.pieces(role, board.turn)))):
        exact = chess.square_file(square), chess.square_rank(square)
        forms.append(written(role, *exact, to))
        for goal in rng.sample(list(why.alone(role, square)), 2):
            forms.append(written(role, *rng.choice([(None, None), exact]), goal))
    # Two squares and no letter.
    if to != chess.square(file, rank):
        forms.append(written(None, file, rank, to))
    own = rng.choice(list(board.pieces(chess.PAWN, board.turn)) or [chess.E2])
    if to != own and board.piece_at(own):
        forms.append(written(None, chess.square_file(own), chess.square_rank(own), to))
    king = board.king(board.turn)
    if king in (chess.E1, chess.E8):
        forms.append(written(None, 4, chess.square_rank(king), king + rng.choice([2, -2])))
    # Pawns; a promotion only where the word must or may have one.
    last = chess.square_rank(to) in (0, 7)
    becomes = rng.choice([chess.QUEEN, chess.KNIGHT]) if last or rng.random() < 0.05 else None
    forms.append(written(chess.PAWN, None, None, to, promotion=becomes))
    beside = chess.square_file(to) + rng.choice([-1, 1])
    if beside in range(8):
        forms.append(written(chess.PAWN, beside, None, to, True, becomes))
    ours = list(board.pieces(chess.PAWN, board.turn))
    for pawn in rng.sample(ours, min(2, len(ours))):
        step = 8 if board.turn else -8
        ahead = pawn + step
        if chess.square_rank(ahead) in (0, 7):
            forms += [written(chess.PAWN, None, None, ahead)] * 4
            forms.append(written(chess.PAWN, None, None, ahead, False, becomes))
            continue
        forms.append(written(chess.PAWN, None, None, rng.choice([ahead, ahead + step])))
        # To the side, as a capture and as if it were none.
        for side in why.alone_pawn(pawn, board.turn):
            forms.append(written(chess.PAWN, chess.square_file(pawn), None, side, True))
            forms.append(written(chess.PAWN, None, None, side))
    for word in ("O-O", "O-O-O"):
        forms.append(why.Asked(word, castling=word))
    # Moves that two pieces can make, and moves of the other side.
    for move in board.legal_moves:
        twins = [other for other in board.legal_moves if other.to_square == move.to_square
                 and board.piece_type_at(other.from_square) == board.piece_type_at(move.from_square)]
        if len(twins) > 1 and board.piece_type_at(move.from_square) not in (chess.PAWN, chess.KING):
            forms += [written(board.piece_type_at(move.from_square), None, None, move.to_square)] * 3
            break
    if not board.is_check():
        other = board.copy(stack=False)
        other.push(chess.Move.null())
        for move in rng.sample(list(other.legal_moves), min(1, len(list(other.legal_moves)))):
            role = other.piece_type_at(move.from_square)
            if not other.is_castling(move) and not move.promotion:
                takes = other.is_capture(move)
                forms.append(written(role, chess.square_file(move.from_square) if takes and role == chess.PAWN
                                     else None, None, move.to_square, takes))
    return rng.sample(forms, min(4, len(forms)))


def the_wrong_piece(rng, board):
    """Words that say which piece moves, by square, file or rank, where another of its kind could go there."""
    moves = [move for move in board.legal_moves if not board.is_castling(move) and not move.promotion]
    for move in rng.sample(moves, min(3, len(moves))):
        role = board.piece_type_at(move.from_square)
        takes = board.is_capture(move)
        others = [square for square in board.pieces(role, board.turn) if square != move.from_square]
        if not others:
            continue
        other = rng.choice(others)
        file, rank = chess.square_file(other), chess.square_rank(other)
        if role == chess.PAWN:
            yield written(None, file, rank, move.to_square)
            if file != chess.square_file(move.to_square):
                yield written(role, file, None, move.to_square, takes)
            continue
        yield written(role, file, rank, move.to_square, takes and rng.random() < 0.8)
        yield written(role, *rng.choice([(file, None), (None, rank)]), move.to_square)


def collect(rng, folder):
    """Triples of kind, position and word, all without a legal meaning; positions from all parts of all games."""
    boards = [board for game in games.played(folder) for _, _, board, _ in game.words]
    ends = [game.last for game in games.played(folder, 400) if game.last.is_game_over(claim_draw=False)]
    rng.shuffle(boards)
    # Pawns about to promote are rare; some hundred such positions come first.
    boards.sort(key=lambda board: not board.pawns & board.occupied_co[board.turn]
                & (chess.BB_RANK_7 if board.turn else chess.BB_RANK_2))
    boards = boards[:400] + rng.sample(boards[400:], len(boards) - 400)
    cases, counts = [], collections.Counter()
    for board in ends + boards:
        for kind, words in (("pseudo-legal", pseudo_legal), ("impossible", impossible),
                            ("the wrong piece", the_wrong_piece)):
            if counts[kind] >= WANTED[kind]:
                continue
            for asked in words(rng, board):
                wanted = why.reasons(board, asked)
                if wanted:
                    counts[kind] += 1
                    cases.append((kind, board, asked, wanted))
    return cases, counts


def squares_of(message, code, word):
    if code in QUOTES_WORD:
        message = message.replace(word, "", 1)
    return frozenset(map(chess.parse_square, re.findall(r"\b[a-h][1-8]\b", message)))


def misnamed(board, message):
    """Pieces that the message names where another one stands."""
    for name, square in re.findall(r"\b(pawn|knight|bishop|rook|queen|king) (?:stands )?on ([a-h][1-8])\b", message):
        piece = board.piece_type_at(chess.parse_square(square))
        if message.startswith("no ") == (piece is not None and chess.piece_name(piece) == name):
            yield f"{name} on {square}"


def untrue(board, message):
    """What the message says of all pieces of a kind, or all those on a line, and one of them can do."""
    said = re.fullmatch(r"no (?:white|black) (\w+)(?: on (?:the ([a-h])-file|rank ([1-8])))? can (reach|step to) ([a-h][1-8])",
                        message)
    if not said:
        return
    name, file, rank, how, to = said.groups()
    for move in board.legal_moves:
        origin = move.from_square
        if (chess.piece_name(board.piece_type_at(origin)) == name and move.to_square == chess.parse_square(to)
                and file in (None, FILES[chess.square_file(origin)]) and rank in (None, RANKS[chess.square_rank(origin)])
                and not (how == "step to" and board.is_capture(move))):
            yield board.san(move)


def check():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("games")
    arguments.add_argument("--seed", type=int, default=SEED)
    given = arguments.parse_args()
    cases, counts = collect(random.Random(given.seed), given.games)
    wrong = [f"{kind}: {count} words, at least {FEWEST} expected" for kind, count in counts.items() if count < FEWEST]
    met, false = collections.Counter(), 0
    with tempfile.TemporaryDirectory() as folder:
        for first in range(0, len(cases), IN_A_FILE):
            part = cases[first:first + IN_A_FILE]
            path = os.path.join(folder, "reasons.pgn")
            with open(path, "w", encoding="utf-8") as handle:
                for _, board, asked, _ in part:
                    dots = "." if board.turn else "..."
                    handle.write(f'[SetUp "1"]\n[FEN "{board.fen()}"]\n[Letters "en"]\n\n'
                                 f"{board.fullmove_number}{dots} {asked.word} *\n\n")
            found = {}
            for finding in program.errors(program.findings(path).get(path, [])):
                found.setdefault((finding["line"] - 1) // 6, []).append(finding)
            for at, (kind, board, asked, wanted) in enumerate(part):
                its_own = found.get(at, [])
                have = {(finding["code"], squares_of(finding["message"], finding["code"], asked.word))
                        for finding in its_own}
                met[wanted[0][0]] += 1
                said = "; ".join(f"{finding['code']} {finding['message']}" for finding in its_own)
                if len(its_own) != 1 or not have <= set(wanted):
                    told = " or ".join(f"{code} {sorted(map(chess.square_name, squares))}" for code, squares in wanted)
                    wrong.append(f"{kind}: {asked.word} in {board.fen()}: {told} expected, got: {said}")
                for move in untrue(board, said.split(" ", 1)[-1]):
                    false += 1
                    wrong.append(f"{kind}: {asked.word} in {board.fen()}: {move} can be played: {said}")
                for name in misnamed(board, said.split(" ", 1)[-1]):
                    wrong.append(f"{kind}: {asked.word} in {board.fen()}: no {name}: {said}")
    wrong += [f"no word with the reason {code}" for code in CODES if not met[code]]
    told = ", ".join(f"{code} {count}" for code, count in sorted(met.items()))
    words = ", ".join(f"{count} {kind}" for kind, count in counts.items())
    return wrong, f"{words}: {told}; {false} say of all pieces what one can do"


if __name__ == "__main__":
    program.main(check)
