"""Tests of the score itself, so that it cannot praise everything: python score_selftest.py TALK.marked.txt...

The program is fake_listen.py, which prints the intended tree and spoils it on demand. Exit 0: as it should be; 1: not.
"""
import json
import os
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))


def score(talk, spoil, program, *more):
    done = subprocess.run([sys.executable, os.path.join(HERE, "score.py"), *more, talk], capture_output=True, text=True,
                          env={**os.environ, "PLYLINE": program, "FAKE_TALK": talk, "FAKE_SPOIL": spoil})
    line = [row for row in done.stdout.splitlines() if row.startswith("score ")]
    return (json.loads(line[0][6:])["all"], done) if line else ({}, done)


def expectations(whole):
    """Name of the spoil: what must then hold of its figures, given those of the unspoiled tree."""
    told, draft = whole["told"], whole["draft"]
    main_four = lambda have: (have["right"], have["draft"], have["silent"], have["repairs"])
    return {
        "fen": lambda have: have == whole,
        "phantom": lambda have: main_four(have) == (told, draft + 1, 1, 1),
        "phantom-doubted": lambda have: (have["draft"], have["silent"], have["doubts"]) == (draft + 1, 0, 1),
        "drop": lambda have: main_four(have) == (told - 1, draft - 1, 0, 1),
        "late": lambda have: have["right"] == told and have["time"] < told * 0.2 and have["link"] < told * 0.2,
        "untimed": lambda have: have["right"] == told and have["time"] == 0,
        # The first move of what was displaced is wrong itself; the rest are the right moves at a wrong place.
        "displaced": lambda have: have["right"] < told and have["right"] < have["link"] and have["silent"] > 1
        and 0 < have["repairs"],
        "displaced-doubted": lambda have: have["right"] < told and have["doubts"] == 1,
        "empty": lambda have: (have["right"], have["link"], have["draft"], have["silent"]) == (0, 0, 0, 0)
        and have["repairs"] > 0,
    }


def check(talk, program):
    whole, done = score(talk, "", program, "--mend", "3", "--same", "--hold", "held")
    full = ("right", "link", "placed", "time", "mended")
    if done.returncode or not whole or any(whole[key] != whole["told"] for key in full) \
            or whole["silent"] or whole["repairs"]:
        yield f"{talk}: the intended tree itself: exit {done.returncode}, {done.stdout}{done.stderr}"
        return
    whole["mended"] = None
    for spoil, holds in expectations(whole).items():
        have, done = score(talk, spoil, program)
        if not have or not holds(have):
            yield f"{talk}: {spoil}: {have or done.stdout + done.stderr}"
    for spoil in ("empty", "phantom-doubted"):
        have, done = score(talk, spoil, program, "--mend", "3")
        if not have or have["mended"] != whole["told"]:
            yield f"{talk}: {spoil}, mended: {have or done.stdout + done.stderr}"
    have, done = score(talk, "empty", program, "--hold", "tuned")
    if done.returncode != 1 or "right" not in done.stdout:
        yield f"{talk}: an empty draft keeps the bounds"


def main():
    with tempfile.TemporaryDirectory() as folder:
        program = os.path.join(folder, "plyline")
        with open(program, "w", encoding="utf-8") as handle:
            handle.write(f'#!/bin/sh\nexec "{sys.executable}" "{os.path.join(HERE, "fake_listen.py")}" "$@"\n')
        os.chmod(program, 0o755)
        wrong = [line for talk in sys.argv[1:] for line in check(talk, program)]
    print("\n".join(wrong) or "as it should be")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
