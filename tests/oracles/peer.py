"""What `plyline export` prints, read again by python-chess (PyPI `chess` 1.11.2) and by plyline itself.

    python peer.py [--games N] FILE…

For each file: python-chess's reading of the export is its reading of the file (moves, FENs, NAGs, comments, nesting,
result), plyline's is its own first one, a second export has the bytes of the first, and the export keeps the layout of
PGN 1994-03-12 (8.1.1 roster and its order, 8.2.1 lines under 80 columns). Tags: the roster is filled, others follow in
ASCII order, a FEN has its SetUp, and the tag Letters is gone, because what is written has English letters.
The program is the environment's PLYLINE.
"""
import argparse
import multiprocessing
import os
import tempfile

import compare
import program
import reading

ROSTER = {"Event": "?", "Site": "?", "Date": "????.??.??", "Round": "?", "White": "?", "Black": "?"}


def filled(tags, result):
    """The tags of an exported game, in their order."""
    known = {name: tags.get(name, unknown) for name, unknown in ROSTER.items()} | {"Result": result}
    others = {name: value for name, value in tags.items() if name not in known and name != "Letters"}
    if "FEN" in others:
        others.setdefault("SetUp", "1")
    return known | dict(sorted(others.items(), key=lambda pair: pair[0].encode()))


def differences(path):
    """What is wrong with the export of a file, how many games python-chess reads in the file, and how many nodes."""
    before = [one.tree() for one in reading.read_file(path)]
    own_before = program.trees(path)
    exported, code = program.run("export", path)
    wrong = [f"{path}: export ended with {code}"] if code else []
    for number, line in enumerate(exported.split("\n"), start=1):
        if len(line) >= 80 and " " in line.strip() and not line.startswith("["):
            wrong.append(f"{path}: line {number} of the export has {len(line)} columns: {line}")
        if line.startswith("%"):
            wrong.append(f"{path}: line {number} of the export is an escape line to other readers: {line}")
    with tempfile.TemporaryDirectory() as folder:
        written = os.path.join(folder, "export.pgn")
        with open(written, "w", encoding="utf-8", newline="") as handle:
            handle.write(exported)
        readings = reading.read_file(written)
        wrong += [f"{path}: python-chess cannot read the export: {one.errors[0]}" for one in readings if one.errors]
        after = [one.tree() for one in readings]
        own_after = program.trees(written)
        if program.run("export", written)[0] != exported:
            wrong.append(f"{path}: a second export has other bytes than the first")
    for who, first, second in (("python-chess", before, after), ("plyline", own_before, own_after)):
        if len(first) != len(second):
            wrong.append(f"{path}: {who} reads {len(first)} games in the file, {len(second)} in the export")
        for number, (want, have) in enumerate(zip(first, second), start=1):
            want = want | {"tags": filled(want["tags"], want["result"])}
            found = list(compare.game_differences(want, have))
            if who == "plyline" and not found and want != have:
                found = [(None, "marks, choice or ask", want, have)]
            for at, field, one, other in found[:compare.SHOWN_OF_A_GAME]:
                where = "" if at is None else compare.place(want, at) + ": "
                wrong.append(f"{path}: game {number}: {where}{field}: {who} read {compare.show(one)} in the file, "
                             f"{compare.show(other)} in the export")
    return wrong, len(before), sum(len(tree["nodes"]) for tree in before)


def check():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("--games", type=int, help="how many games the files must hold together")
    arguments.add_argument("files", nargs="+")
    given = arguments.parse_args()
    with multiprocessing.Pool() as pool:
        parts = pool.map(differences, given.files, chunksize=1)
    wrong = [line for part in parts for line in part[0]]
    games, nodes = sum(part[1] for part in parts), sum(part[2] for part in parts)
    if games == 0 or given.games not in (None, games):
        wrong.append(f"{games} games read, {given.games or 'at least one'} expected")
    return wrong, f"{games} games, {nodes} nodes compared"


if __name__ == "__main__":
    program.main(check)
