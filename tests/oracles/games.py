"""The real games of the crate `pgn-reader` (=0.29.0, folder benches/ of its source archive): 1,110 tournament games.

The file is found by the number of its games, and nothing of it is kept in the repository. What is here is
python-chess's reading of them (PyPI `chess` 1.11.2), word by word.
"""
import glob
import os
import re

import chess

GAMES = 1110
TOKEN = re.compile(r"\S+")
NUMBER = re.compile(r"\d+\.+")
RESULTS = ("1-0", "0-1", "1/2-1/2", "*")


class Played:
    """One game: its text, and for each move where its word is, the position before it and the move."""

    def __init__(self, text):
        self.text = text
        self.body = text.index("\n\n") + 2
        self.words = []
        board = chess.Board()
        for begin, word in words(text, self.body):
            move = board.parse_san(word)
            self.words.append((begin, word, board, move))
            board = board.copy(stack=False)
            board.push(move)
        self.last = board


def words(text, body):
    """The move words of a main line without comments, and where each begins; numbers and results are no moves."""
    for token in TOKEN.finditer(text, body):
        number = NUMBER.match(token.group())
        skipped = number.end() if number else 0
        word = token.group()[skipped:]
        if word and word not in RESULTS:
            yield token.start() + skipped, word


def path(folder):
    """The collection among the files of the unpacked archive."""
    for name in sorted(glob.glob(os.path.join(folder, "**", "benches", "*.pgn"), recursive=True)):
        with open(name, encoding="utf-8") as handle:
            if len(re.findall(r"^\[Event ", handle.read(), re.MULTILINE)) == GAMES:
                return name
    raise OSError(f"no file with {GAMES} games in {folder}")


def texts(folder):
    with open(path(folder), encoding="utf-8") as handle:
        return re.findall(r"\[Event .*?(?=\n\n\[Event |\s*\Z)", handle.read(), re.DOTALL)


def played(folder, limit=GAMES):
    """The games as python-chess reads them; a word that it cannot read is an error of the check, not of the game."""
    return [Played(text + "\n") for text in texts(folder)[:limit]]
