"""Claims in comments: a corpus written without sight of the rules and the code, half of it true: python claims.py [--long] [--missed]

No true claim and none that is hedged may be told; of those that are false by mate, legality, geometry or a gain within 5
half-moves at least 80 % are (rules of weighing). The truth of each line was checked with python-chess (PyPI `chess`) where a
script could; the rest is its writer's. With --long all lines, else a twelfth. Prints what was told wrongly, and the figures last.
"""
import csv
import json
import os
import sys
import tempfile
from collections import Counter

import program

BUDGET = 2_000_000
LEAST = 0.8
TOLD = "P206"
COMPUTED = ("mate", "legality", "geometry", "gain")


def lesson(moves, sentence):
    tags = ""
    if moves.startswith("FEN "):
        fen, moves = moves[4:].split("|")
        tags = f'[SetUp "1"]\n[FEN "{fen.strip()}"]\n\n'
    return f"{tags}{moves.strip()} {{{sentence}}} *\n"


def main():
    path = os.path.join(os.path.dirname(os.path.abspath(__file__)), "claims.tsv")
    with open(path, encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE))
    lines = {at: row for at, row in enumerate(rows) if "--long" in sys.argv or at % 12 == 5}
    with tempfile.TemporaryDirectory() as folder:
        names = []
        for at, row in lines.items():
            names.append(os.path.join(folder, f"{at:03}.pgn"))
            with open(names[-1], "w", encoding="utf-8") as file:
                file.write(lesson(row["moves"], row["sentence"]))
        text, _ = program.run("weigh", "--format", "json", "--budget", str(BUDGET), *names, seconds=3600)
    told = {}
    for line in program.lines(text):
        finding = json.loads(line)
        if finding["code"] == TOLD:
            told[int(os.path.basename(finding["file"])[:3])] = finding["message"]
    wrong, found, all_of = [], Counter(), Counter()
    for at, row in lines.items():
        kind = row["by"] if row["truth"] == "false" else row["truth"]
        all_of[kind] += 1
        found[kind] += at in told
        if row["truth"] != "false" and at in told:
            wrong.append(f"line {at + 2}, {row['moves']} {{{row['sentence']}}}: {told[at]}")
    for at, row in lines.items():
        if "--missed" in sys.argv and row["by"] in COMPUTED and at not in told:
            print(f"  missed, {row['by']}: line {at + 2}, {row['moves']} {{{row['sentence']}}}")
    for line in wrong:
        print(f"  {line}")
    right, computed = (sum(counter[kind] for kind in COMPUTED) for counter in (found, all_of))
    parts = ", ".join(f"{kind} {found[kind]} of {all_of[kind]}" for kind in sorted(all_of))
    print(f"told: {parts}")
    print(f"false by what can be computed: {right} of {computed} told; wrongly told {len(wrong)} of {len(lines)}")
    sys.exit(not (lines and not wrong and right >= LEAST * computed))


if __name__ == "__main__":
    main()
