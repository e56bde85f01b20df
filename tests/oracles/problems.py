"""The search against published problems: mates in two and three, and won material, each with the key its source gives.

    python problems.py PROBLEMS PROGRAM [--budget NODES]

PROBLEMS: problems.tsv, a line a problem: FEN, what (`mate N` or `wins`), key (SAN, several parted by `|`), source, and
where it was found; each was verified by solve.py before it was let in. PROGRAM: the example `search`. A mate counts if the
search says mate in exactly N and its line begins with the key. Another move that mates as fast (a cook) is told, and is
right as well: a search cannot know which one its author saw. Won material counts if it says at least two pawns, or a mate,
and its line begins with the key. Prints the figures, what was not the key, and the seconds by kind.
"""
import json
import subprocess
import sys
import time

import chess

import solve

BUDGET = 400_000
LEAST = 200
COOK = "another move mates as fast"
KINDS = {"mate 2": "mates in 2", "mate 3": "mates in 3", "wins": "won material"}


class Program:
    """The example that answers, a line a question; asked one by one, so that each answer can be timed."""

    def __init__(self, path):
        self.process = subprocess.Popen([path], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)

    def ask(self, line):
        self.process.stdin.write(line + "\n")
        self.process.stdin.flush()
        return self.process.stdout.readline()

    def close(self):
        self.process.stdin.close()
        self.process.wait()


def read(path):
    for line in open(path, encoding="utf-8"):
        if line.strip() and not line.startswith("#"):
            fen, what, keys, source, _ = line.rstrip("\n").split("\t")
            yield fen, what, keys, source


def miss(board, what, keys, gain):
    """Why an answer is not the published one; nothing if it is."""
    wrong = []
    if what == "wins":
        if (gain["mate"] or 0) <= 0 and gain["pawns"] < LEAST:
            wrong.append(f"gains {gain['pawns']}")
    elif gain["mate"] != int(what.split()[1]):
        wrong.append(f"mate {gain['mate']}")
    first = gain["line"][0] if gain["line"] else None
    if first not in [board.parse_san(san).uci() for san in keys.split("|")]:
        is_cook = what != "wins" and first and solve.mates_by(board, chess.Move.from_uci(first), int(what.split()[1]), {})
        wrong.append(COOK if is_cook else f"first move {first}")
    return ", ".join(wrong)


def main():
    words, budget = sys.argv[1:], BUDGET
    if "--budget" in words:
        at = words.index("--budget")
        budget = int(words[at + 1])
        del words[at : at + 2]
    path, program = words[0], Program(words[1])
    solved, asked, seconds, told, missed = {}, {}, {}, [], 0
    for fen, what, keys, source in read(path):
        board = chess.Board(fen)
        start = time.monotonic()
        gain = json.loads(program.ask(f"gain {budget} {fen}"))
        seconds.setdefault(what, []).append(time.monotonic() - start)
        asked[what] = asked.get(what, 0) + 1
        wrong = miss(board, what, keys, gain)
        solved[what] = solved.get(what, 0) + (not wrong)
        if wrong:
            missed += wrong != COOK
            told.append(f"{what}, {keys}: {wrong}; depth {gain['depth']}, complete {gain['complete']}, {' '.join(gain['line'])}; {fen}; {source}")
    program.close()
    parts = [f"{name} {solved.get(what, 0)} of {asked.get(what, 0)}" for what, name in KINDS.items()]
    print(f"problems: {sum(solved.values())} of {sum(asked.values())} with the published key; {', '.join(parts)}")
    for line in told:
        print(f"  {line}")
    for what, name in KINDS.items():
        if times := seconds.get(what):
            print(f"seconds, {name}: {sum(times):.1f} in all, the longest {max(times):.1f}")
    print(f"budget: {budget} nodes")
    sys.exit(bool(missed))


if __name__ == "__main__":
    main()
