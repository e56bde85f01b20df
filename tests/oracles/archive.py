"""Copies the real games of ordinary chess out of the unpacked source archive of python-chess (PyPI `chess` 1.11.2).

    python archive.py ARCHIVE FOLDER

The files are found by pattern; FOLDER/real-1.pgn and so on are their bytes as they are, or, where a file holds more
than games of ordinary chess, the text of those alone. Prints how many games there are.
"""
import glob
import io
import os
import sys

import chess
import chess.pgn

import reading


def slices(text):
    """Each game as python-chess reads it, with its own piece of the text."""
    handle = io.StringIO(text, newline="")
    while True:
        begin = handle.tell()
        one = chess.pgn.read_game(handle, Visitor=reading.Reading)
        if one is None:
            return
        yield one, text[begin:handle.tell()]


def is_ordinary(one):
    """Ordinary chess, and read by python-chess without an error."""
    return (one.tags.get("Variant", "standard").lower() == "standard" and type(one.game.board()) is chess.Board
            and not one.game.board().chess960 and not one.errors)


def main():
    archive, folder = sys.argv[1:]
    os.makedirs(folder, exist_ok=True)
    seen, files, games = set(), 0, 0
    for path in sorted(glob.glob(os.path.join(archive, "**", "*.pgn"), recursive=True)):
        with open(path, "rb") as handle:
            data = handle.read()
        # Some files are there twice, byte for byte.
        if data in seen:
            continue
        seen.add(data)
        try:
            text = data.decode("utf-8")
        except UnicodeDecodeError:
            continue
        found = list(slices(text))
        kept = [piece for one, piece in found if is_ordinary(one)]
        if not kept:
            continue
        files += 1
        games += len(kept)
        with open(os.path.join(folder, f"real-{files}.pgn"), "wb") as handle:
            handle.write(data if len(kept) == len(found) else "\n\n".join(kept).encode())
    print(games)
    return 0 if games else 1


if __name__ == "__main__":
    sys.exit(main())
