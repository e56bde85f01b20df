"""Moves named in sentences: python-chess (PyPI `chess` 1.11.2) replays every linked move of the marked corpora and
every path that the corpora's writers marked.

    python prose.py CORPUS… FOLDER

FOLDER: where `tests/native/lesson/prose.rs` wrote, for each corpus and for the posts of the demo blog, the links that plyline makes: the FEN of the lesson's start, the
path of moves, the FEN that plyline reaches, the move as the sentence has it, with tabs between. Path and FEN must
agree, and the move as written must be the last of the path.
"""
import os
import re
import sys

import chess

START = chess.STARTING_FEN
# Number and dots before a move, judgement after it.
AROUND = re.compile("^(?!0[-\u2013]0)[0-9]*[.\u2026 ]*|[!?+#=\u00b1\u2213\u221e]+$")
NO_MOVE = re.compile("[A-Za-z]{4,}( [a-z]+)*$")
FIGURINES = str.maketrans("\u2654\u2655\u2656\u2657\u2658\u265a\u265b\u265c\u265d\u265e", "KQRBNKQRBN", "\u2659\u265f\ufe0e\ufe0f")


def played(board, word):
    """The move that a sentence's word is, by python-chess; what people type is made SAN first."""
    word = AROUND.sub("", word).strip().translate(FIGURINES)
    word = word.replace("0", "O").replace("o", "O").replace("\u2013", "-").replace(":", "x").replace("\u00d7", "x").replace("e.p.", "")
    word = re.sub(r"\(([QRBN])\)$", r"=\1", word)
    word = re.sub(r"([a-h][18])([QRBN])$", r"\1=\2", word)
    word = re.sub(r"^([KQRBN]?[a-h][1-8])-([a-h][1-8])", r"\1\2", word)
    return board.parse_san(word)


def walk(start, path):
    """The board before the path's last move, and that move."""
    board = chess.Board(start)
    moves = path.split()
    for san in moves[:-1]:
        board.push_san(san)
    return board, board.parse_san(moves[-1])


def marks(path):
    """Start, path and word of every mark of a corpus."""
    start = START
    with open(path, encoding="utf-8") as handle:
        for line in handle:
            if line.startswith("== PGN"):
                start = START
            if tag := re.match(r'\[FEN "([^"]+)"\]', line):
                start = tag[1]
            for word, way in re.findall(r"\[\[([^\]|]+)\|([^\]]+)\]\]", line):
                yield start, way, word


def check(corpora, folder):
    wrong, marked, linked = [], 0, 0
    for path in corpora:
        for start, way, word in marks(path):
            marked += 1
            try:
                board, last = walk(start, way)
                # A writer marked words too, as "castles long".
                if not NO_MOVE.match(word) and played(board, word) != last:
                    wrong.append(f"{path}: {word} is not the last move of {way}")
            except ValueError as error:
                wrong.append(f"{path}: {word}, {way}: {error}")
    for name in [os.path.basename(path) for path in corpora] + ["demo.txt"]:
        with open(os.path.join(folder, name), encoding="utf-8") as handle:
            for line in handle:
                linked += 1
                start, way, fen, word = line.rstrip("\n").split("\t")
                try:
                    board, last = walk(start, way)
                    if played(board, word) != last:
                        wrong.append(f"{word} is linked to {way}")
                    board.push(last)
                    if board.fen(en_passant="legal") != fen:
                        wrong.append(f"{way} reaches {board.fen(en_passant='legal')}, plyline says {fen}")
                except ValueError as error:
                    wrong.append(f"linked {word}, {way}: {error}")
    print("\n".join(wrong[:20]))
    print(f"{marked} marked and {linked} linked moves of {len(corpora)} corpora and the demo replayed, {len(wrong)} wrong")
    return not wrong and marked > 700 and linked > 700


if __name__ == "__main__":
    sys.exit(not check(sys.argv[1:-1], sys.argv[-1]))
